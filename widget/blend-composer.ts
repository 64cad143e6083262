import { type Advice, adviseOn } from "./advice.ts";
import { Checkout } from "./checkout.ts";
import { type ComposerPage, composerPage, sayScene } from "./composer-page.ts";
import { html, say } from "./dom.ts";
import { tell } from "./events.ts";
import { keep, reopen } from "./keep.ts";
import { afterSilence, breath } from "./idle.ts";
import { wayBackOf } from "./keys.ts";
import { type Language, askedOf } from "./language.ts";
import { type Opening, openOffer } from "./opening.ts";
import { isVisit } from "./link.ts";
import { type Scene, nameOf, readScene } from "./scene.ts";
import { sayReasons } from "./sayings.ts";
import { type Act, type ComposerState, act, isMakersBase } from "./state.ts";
import { composerSheet } from "./styles.ts";
import { loading, notLoaded } from "./views/before.ts";
import { type Teller, type Trouble, noAnswer, notSetUp } from "./troubles.ts";
import { FIRST_WORDS, type Say } from "./words.ts";

/** Silence after the last change before the summary is spoken, so that a drawn slider does not chatter [ms]. */
const HUSH_MS = 600;
/** Silence after which a change counts as made: it is kept, and a refused blend gets its offer [ms]. */
const SETTLE_MS = 250;

/** What stands while an offer is loaded. */
interface Open {
  readonly service: string;
  readonly isOutOfWords: boolean;
  readonly language: Language;
  readonly page: ComposerPage;
  readonly checkout: Checkout;
  state: ComposerState;
  scene: Scene;
  advice: Advice | undefined;
}

/**
 * `<softset-composer product="evening-butter" service="https://shop.example">`: choose a base, swap
 * oils, move shares, order.
 *
 * Attributes
 * - `product`  id of a published product
 * - `service`  address of the Softset service; the page's own origin when left out
 * - `lang`     language to speak; the shop's own when left out
 *
 * Children are the page without script: they stay until the product is loaded, and if it cannot be.
 *
 * Events (typed in `events.ts`; all bubble and cross the shadow boundary)
 * - `softset-change`, `softset-quoted` (cancel it to take the quote into a cart of your own),
 *   `softset-ordered` (cancel it to stay on the page), `softset-problem`
 *
 * Custom properties, with the font inherited from the page; light or dark follows the page's
 * `color-scheme`
 * - `--softset-accent` one colour for what is chosen and what can be pressed
 * - `--softset-on-accent` text on it
 * - `--softset-ink` text and lines
 * - `--softset-paper` ground
 * - `--softset-radius` corners
 *
 * Parts (every named region is one; these are promised): composer, head, practice, bases, base, judge, verdict,
 * headline,
 * reasons, curve, legend, places, figures, blend, row, share, step, range, oil, know, price, jars, quantity, total,
 * order, buy, hint, alert, panel, strip, offer, changes, take.
 */
export class BlendComposer extends HTMLElement {
  static readonly observedAttributes = ["product", "service", "lang"];

  readonly #root = this.attachShadow({ mode: "open" });
  readonly #body = html("div", { class: "body" });
  readonly #spoken = html("p", { class: "spoken", role: "status" });
  #open: Open | undefined;
  #teller: Teller = FIRST_WORDS;
  /** Counts loads, so that a late answer to an earlier one is dropped. */
  #loads = 0;
  readonly #speaking = afterSilence(HUSH_MS, () => this.#speak());
  readonly #settling = afterSilence(SETTLE_MS, () => {
    this.#keep();
    void this.#advise();
  });
  #alert = "";
  #done = "";

  constructor() {
    super();
    this.#root.adoptedStyleSheets = [composerSheet()];
    this.#root.append(this.#body, this.#spoken);
    this.#body.addEventListener("keydown", this.#shortcut);
  }

  connectedCallback(): void {
    addEventListener("pageshow", this.#comeBack);
    addEventListener("pagehide", this.#keep);
    addEventListener("online", this.#retry);
    void this.load();
  }

  disconnectedCallback(): void {
    removeEventListener("pageshow", this.#comeBack);
    removeEventListener("pagehide", this.#keep);
    removeEventListener("online", this.#retry);
    this.#loads += 1;
    this.#close();
  }

  attributeChangedCallback(_name: string, before: string | null, now: string | null): void {
    // An element in the page's markup gets its attributes before it is put in place: one load is enough.
    if (this.#loads > 0 && this.isConnected && before !== now) void this.load();
  }

  /** Fetch the product and start, or start again. */
  async load(): Promise<void> {
    const mine = ++this.#loads;
    this.#close();
    const product = this.getAttribute("product");
    const service = this.getAttribute("service") ?? location.origin;
    if (!product) return this.#cannotLoad(notSetUp("product"));
    if (!URL.canParse(service)) return this.#cannotLoad(notSetUp("service"));
    this.#body.replaceChildren(loading(this.#teller), html("slot"));
    const opened = await openOffer(service, product, askedOf(this));
    if (mine !== this.#loads) return;
    if ("trouble" in opened) return this.#cannotLoad(opened.trouble);
    this.#teller = opened.language;
    try {
      await this.#start(service, opened, () => mine === this.#loads);
    } catch {
      if (mine === this.#loads) this.#cannotLoad(noAnswer("load", "unreadable"));
    }
  }

  /** In three strides with a breath between them, so that a slow phone stays in hand meanwhile. */
  async #start(service: string, opened: Opening, isWanted: () => boolean): Promise<void> {
    const { offer, language, isOutOfWords, linked } = opened;
    const state = reopen(service, offer);
    const scene = readScene(state);
    await breath();
    if (!isWanted()) return;
    const checkout = new Checkout(service, {
      phase: () => this.#show(),
      trouble: (trouble) => this.#say(trouble),
      quoted: (quoted) => tell(this, "softset-quoted", quoted),
      ordered: (order) => {
        if (!tell(this, "softset-ordered", order)) return;
        location.assign(order.payUrl ?? order.orderUrl);
      },
    });
    const doAct = (doing: Act) => this.#act(doing);
    const page = composerPage(
      { service, offer, language, doAct, readScene },
      {
        buy: () => this.#buy(),
        confirm: () => this.#open && void checkout.confirm(this.#open.scene),
        rest: () => checkout.rest(),
      },
    );
    await breath();
    if (!isWanted()) return;
    const made = { service, isOutOfWords, language, page, checkout };
    this.#open = { ...made, state, scene, advice: undefined };
    this.#spoken.lang = language.lang;
    this.#show();
    this.#settling.soon();
    this.#body.replaceChildren(page.node);
    if (linked && (isVisit() || isMakersBase(state))) void page.arrive(linked);
  }

  #act(doing: Act): void {
    const open = this.#open;
    if (!open) return;
    const before = open.state;
    open.state = act(before, doing);
    if (open.state === before) return;
    const { choice, jar, quantity } = open.state;
    const isSame = choice === before.choice && jar === before.jar && quantity === before.quantity;
    open.scene = isSame ? { ...open.scene, state: open.state } : readScene(open.state);
    if (!isSame) open.advice = undefined;
    this.#alert = "";
    open.checkout.rest();
    this.#show();
    if (isSame) return;
    this.#tellChange(open);
    const done: Partial<Record<Act["kind"], Say>> = open.language.words.spoken;
    this.#done = done[doing.kind]?.() ?? "";
    this.#speaking.soon();
    this.#settling.soon();
  }

  #speak(): void {
    const open = this.#open;
    if (!open) return;
    const scene = sayScene(open.scene, open.advice, open.language);
    say(this.#spoken, `${this.#done} ${scene}`.trim());
  }

  async #advise(): Promise<void> {
    const open = this.#open;
    if (open?.scene.verdict !== "refused") return;
    const { scene } = open;
    const isWanted = () => this.#open === open && open.scene.blend === scene.blend;
    const advice = await adviseOn(scene, open.language, isWanted);
    if (!advice || !isWanted()) return;
    open.advice = advice;
    this.#show();
    this.#speaking.soon();
  }

  #buy(): void {
    const open = this.#open;
    if (!open || open.checkout.phase.kind !== "idle") return;
    if (open.scene.verdict !== "orderable") {
      const [reason = ""] = sayReasons(open.scene, open.language);
      this.#alert = open.language.words.order.notYet({ reason });
      return this.#show();
    }
    this.#alert = "";
    void open.checkout.buy(open.scene);
  }

  #show(): void {
    const open = this.#open;
    if (!open) return;
    const { scene, advice, checkout } = open;
    open.page.show({ scene, advice, phase: checkout.phase, alert: this.#alert });
  }

  #tellChange({ state, scene }: Open): void {
    const { offer, choice, jar, quantity } = state;
    tell(this, "softset-change", {
      product: offer.product.id,
      choice,
      jar,
      quantity,
      verdict: scene.verdict,
      ...(scene.price ? { jarMinor: scene.price.jarMinor } : {}),
      currency: offer.currency.code,
    });
  }

  #say(trouble: Trouble): void {
    const { code } = trouble;
    const sentence = this.#sentenceOf(trouble);
    this.#alert = sentence;
    this.#show();
    tell(this, "softset-problem", { code, sentence });
  }

  #sentenceOf({ say: tellIn }: Trouble): string {
    const offer = this.#open?.state.offer;
    return tellIn(this.#teller, (id) => (offer ? nameOf(offer, id) : id));
  }

  #cannotLoad(trouble: Trouble): void {
    const { code } = trouble;
    const sentence = this.#sentenceOf(trouble);
    const again = code.startsWith("widget.attribute") ? undefined : () => void this.load();
    this.#body.replaceChildren(...notLoaded(this.#teller, sentence, again), html("slot"));
    tell(this, "softset-problem", { code, sentence });
  }

  #close(): void {
    this.#speaking.stop();
    this.#settling.stop();
    this.#keep();
    this.#open = undefined;
    this.#alert = "";
  }

  /**
   * The way back from payment: the browser shows the page as it was left, so it only has to be
   * shown again.
   */
  readonly #comeBack = (event: PageTransitionEvent): void => {
    if (event.persisted) this.#show();
  };

  readonly #keep = (): void => {
    if (this.#open) keep(this.#open.service, this.#open.state);
  };

  /** Online again: try once more what could not be had, the product, its words or the offer. */
  readonly #retry = (): void => {
    if (!this.#open || this.#open.isOutOfWords) void this.load();
    else if (this.#open.advice?.kind === "out-of-reach") void this.#advise();
  };

  readonly #shortcut = (event: KeyboardEvent): void => {
    const kind = wayBackOf(event);
    if (!kind) return;
    event.preventDefault();
    this.#act({ kind });
  };
}
