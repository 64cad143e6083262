/**
 * What templates may call to write a figure or a message.
 *
 * A new helper is added here and to `HELPER_NAMES` in `precompile.mjs`; a test holds the two
 * together.
 */
import { langOf, sayIn } from "../words/speak.ts";
import { money, percent, percentIn } from "./figures.ts";

interface PageRoot {
  readonly locale?: string;
  readonly shop?: { readonly locale: string };
}

/** What the template engine hands a helper beside its arguments. */
interface HelperOptions {
  readonly data: { readonly root: PageRoot };
  readonly hash: Readonly<Record<string, unknown>>;
}

/** {{say "order.title" reference=reference}}: a message in the language of the page's shop. */
function say(message: unknown, { data, hash }: HelperOptions): string {
  return sayIn(localeOf(data.root), message as string, hash);
}

/** {{saidIn}}: the language that the words of the page are in, for its `lang`. */
function saidIn({ data }: HelperOptions): string {
  const locale = localeOf(data.root);
  return locale.toLowerCase().startsWith(langOf(locale)) ? locale : "en";
}

function localeOf({ locale, shop }: PageRoot): string {
  return locale ?? shop?.locale ?? "en";
}

export const helpers = {
  money,
  percent,
  percentIn,
  saidIn,
  say,
};
