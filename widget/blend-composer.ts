import type { ProductOffer } from "#core/wire.ts";
import { Checkout } from "./checkout.ts";
import { composerPage, sayScene } from "./composer-page.ts";
import { type View, button, html, say } from "./dom.ts";
import { tell } from "./events.ts";
import { loadOffer } from "./exchange.ts";
import { type Formats, formatsFor } from "./formats.ts";
import { keep, reopen } from "./keep.ts";
import { type Scene, readScene } from "./scene.ts";
import { type Act, type ComposerState, act } from "./state.ts";
import { composerSheet } from "./styles.ts";
import type { OrderShown } from "./views/order.ts";
import { type Trouble, noAnswer, notSetUp } from "./troubles.ts";

/**
 * Silence after the last change before the summary is spoken, so that a drawn slider does not
 * chatter [ms].
 */
const HUSH_MS = 600;

/** What stands while an offer is loaded. */
interface Open {
  readonly formats: Formats;
  readonly page: View<OrderShown>;
  readonly checkout: Checkout;
  state: ComposerState;
  scene: Scene;
}

/**
 * `<softset-composer product="evening-butter" service="https://shop.example">`: choose a base, swap
 * oils, move shares, order.
 *
 * Attributes
 * - `product`  id of a published product
 * - `service`  address of the Softset service; the page's own origin when left out
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
 * Parts (every named region is one; these are promised): composer, head,
 * practice, bases, base, judge,
 * verdict, headline, reasons, curve, legend, places, figures, blend, row, share, step, range, oil,
 * know, price, jars, quantity, total, order, buy, hint, alert, panel, strip.
 */
export class BlendComposer extends HTMLElement {
  static readonly observedAttributes = ["product", "service"];

  readonly #root = this.attachShadow({ mode: "open" });
  readonly #body = html("div", { class: "body" });
  readonly #spoken = html("p", { class: "spoken", role: "status" });
  #open: Open | undefined;
  /** Counts loads, so that a late answer to an earlier one is dropped. */
  #loads = 0;
  #hush: ReturnType<typeof setTimeout> | undefined;
  #alert = "";

  constructor() {
    super();
    this.#root.adoptedStyleSheets = [composerSheet()];
    this.#root.append(this.#body, this.#spoken);
  }

  connectedCallback(): void {
    addEventListener("pageshow", this.#comeBack);
    addEventListener("online", this.#retry);
    void this.load();
  }

  disconnectedCallback(): void {
    removeEventListener("pageshow", this.#comeBack);
    removeEventListener("online", this.#retry);
    clearTimeout(this.#hush);
    this.#loads += 1;
    this.#close();
  }

  attributeChangedCallback(_name: string, before: string | null, now: string | null): void {
    if (this.isConnected && before !== now) void this.load();
  }

  /** Fetch the product and start, or start again. */
  async load(): Promise<void> {
    const mine = ++this.#loads;
    this.#close();
    const product = this.getAttribute("product");
    const service = this.getAttribute("service") ?? location.origin;
    if (!product) return this.#cannotLoad(notSetUp("product"));
    if (!URL.canParse(service)) return this.#cannotLoad(notSetUp("service"));
    this.#body.replaceChildren(
      html("p", { class: "loading", role: "status" }, "Fetching the recipe …"),
      html("slot"),
    );
    const answer = await loadOffer(service, product);
    if (mine !== this.#loads) return;
    if ("trouble" in answer) return this.#cannotLoad(answer.trouble);
    try {
      this.#start(service, answer.value);
    } catch {
      this.#cannotLoad(noAnswer("load", "unreadable"));
    }
  }

  #start(service: string, offer: ProductOffer): void {
    const formats = formatsFor(offer.locale, offer.currency);
    const state = reopen(service, offer);
    const checkout = new Checkout(service, {
      phase: () => this.#show(),
      trouble: (trouble) => this.#say(trouble),
      quoted: (quoted) => tell(this, "softset-quoted", quoted),
      ordered: (order) => {
        if (!tell(this, "softset-ordered", order)) return;
        location.assign(order.payUrl ?? order.orderUrl);
      },
    });
    const page = composerPage(offer, formats, (doing) => this.#act(service, doing), {
      buy: () => this.#buy(),
      confirm: () => this.#open && void checkout.confirm(this.#open.scene),
      rest: () => checkout.rest(),
    });
    this.#open = { formats, page, checkout, state, scene: readScene(state) };
    this.#show();
    this.#body.replaceChildren(page.node);
  }

  #act(service: string, doing: Act): void {
    const open = this.#open;
    if (!open) return;
    const before = open.state;
    open.state = act(before, doing);
    if (open.state === before) return;
    const { choice, jar, quantity } = open.state;
    const isSame = choice === before.choice && jar === before.jar && quantity === before.quantity;
    open.scene = isSame ? { ...open.scene, state: open.state } : readScene(open.state);
    this.#alert = "";
    open.checkout.rest();
    this.#show();
    if (isSame) return;
    this.#keepSoon(service);
    this.#tellChange(open);
    clearTimeout(this.#hush);
    this.#hush = setTimeout(() => say(this.#spoken, sayScene(open.scene, open.formats)), HUSH_MS);
  }

  /** Keep it */
  #keepSoon(_service: string): void {}

  #buy(): void {
    const open = this.#open;
    if (!open || open.checkout.phase.kind !== "idle") return;
    if (open.scene.verdict !== "orderable") {
      this.#alert = `This blend can’t be ordered yet. ${open.scene.reasons[0] ?? ""}`;
      return this.#show();
    }
    this.#alert = "";
    void open.checkout.buy(open.scene);
  }

  #show(): void {
    const open = this.#open;
    if (!open) return;
    open.page.show({ scene: open.scene, phase: open.checkout.phase, alert: this.#alert });
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

  #say({ code, sentence }: Trouble): void {
    this.#alert = sentence;
    this.#show();
    tell(this, "softset-problem", { code, sentence });
  }

  #cannotLoad({ code, sentence }: Trouble): void {
    const again = button({ class: "quiet" }, () => void this.load(), "Try again");
    const canRetry = !code.startsWith("widget.attribute");
    this.#body.replaceChildren(
      html("p", { class: "alert", role: "alert", part: "alert" }, sentence),
      ...(canRetry ? [again] : []),
      html("slot"),
    );
    tell(this, "softset-problem", { code, sentence });
  }

  #close(): void {
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

  /** Online again while nothing is loaded: try once more. */
  readonly #retry = (): void => {
    if (!this.#open) void this.load();
  };
}
