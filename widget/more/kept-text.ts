/**
 * What a customer typed or pasted to open a blend -> what it is. Pure.
 */
export type Kept =
  | { readonly kind: "code"; readonly code: string }
  /** The page of an order, with the token that opens it. */
  | { readonly kind: "order"; readonly order: string; readonly token: string }
  /** An order's number, which opens nothing. */
  | { readonly kind: "reference" }
  | { readonly kind: "empty" }
  | { readonly kind: "unlike" };

/** The address parameter that carries a code. */
const PARAMETER = "blend";

/** A code has at least a product, a base, a share and its seal; shorter is something else. */
const CODE = /^[\w-]{30,512}$/;
/** As orders are numbered: six letters and digits, with or without what people write before it. */
const REFERENCE = /^(?:\D{0,12}[\s#:.-])?[\dA-Z]{3}[\s-]?[\dA-Z]{3}$/i;

/** Read a code, a link with one, the address of an order's page, or an order's number. */
export function readKept(text: string): Kept {
  const trimmed = text.trim();
  if (trimmed === "") return { kind: "empty" };
  const address = URL.canParse(trimmed) ? new URL(trimmed) : undefined;
  const code = address?.searchParams.get(PARAMETER) ?? trimmed.replaceAll(/\s/g, "");
  if (CODE.test(code)) return { kind: "code", code };
  const [, order, token] = /\/orders\/([\w-]+)\/([\w-]+)/.exec(address?.pathname ?? "") ?? [];
  if (order && token) return { kind: "order", order, token };
  return REFERENCE.test(trimmed) ? { kind: "reference" } : { kind: "unlike" };
}

/** The page's own address with a code in it: the canonical one where the page names it. */
export function addressWith(code: string): string {
  const canonical = document.querySelector<HTMLLinkElement>('link[rel="canonical"]')?.href;
  const url = new URL(canonical ?? location.href);
  url.searchParams.set(PARAMETER, code);
  url.hash = "";
  return url.href;
}
