/**
 * The running service as the simulator sees it: a row of calls to the outside, each of which can fail, or be the last
 * one before the whole process dies.
 */

/** What goes wrong, and at which call. */
export interface Trouble {
  /** From 1. */
  readonly at: number;
  /** Before the call had its effect, or after it, when only its answer is lost. */
  readonly when: "before" | "after";
  /** The call alone fails; or the process dies with everything that was under way in it. */
  readonly what: "fails" | "dies";
}

/** Nobody outside hears of it: the process is gone. */
export class Died extends Error {}

/** Makes the error of a call that fails. */
type Failure = () => Error;

/** Lets a call wait until it is its turn among those that want one. */
export type Turns = <Answer>(work: () => Promise<Answer>) => Promise<Answer>;

export class Process {
  #calls = 0;
  #isDead = false;
  #trouble: Trouble | undefined;
  #turns: Turns | undefined;

  /** Calls since the last start. */
  get calls(): number {
    return this.#calls;
  }

  get isDead(): boolean {
    return this.#isDead;
  }

  /** Start, or start again after it died. Whatever was under way before must have ended. */
  start(trouble?: Trouble, turns?: Turns): void {
    this.#calls = 0;
    this.#isDead = false;
    this.#trouble = trouble;
    this.#turns = turns;
  }

  /** One call to the outside. */
  call<Answer>(work: () => PromiseLike<Answer> | Answer, failure: Failure): Promise<Answer> {
    const run = () => this.#run(work, failure);
    return this.#turns ? this.#turns(run) : run();
  }

  async #run<Answer>(work: () => PromiseLike<Answer> | Answer, failure: Failure): Promise<Answer> {
    if (this.#isDead) throw new Died("the process is gone");
    this.#calls += 1;
    const trouble = this.#calls === this.#trouble?.at ? this.#trouble : undefined;
    if (trouble?.when === "before") throw this.#fail(trouble, failure);
    const answer = await work();
    if (trouble) throw this.#fail(trouble, failure);
    return answer;
  }

  #fail({ what }: Trouble, failure: Failure): Error {
    if (what === "fails") return failure();
    this.#isDead = true;
    return new Died("the process dies here");
  }
}
