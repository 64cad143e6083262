/**
 * The forms on a page, with what each would send as it stands.
 */
export interface Form {
  readonly action: string;
  readonly fields: readonly (readonly [string, string])[];
}

/** @param here address of the page, where a form without an address of its own goes */
export function formsOn(page: string, here: string): Form[] {
  return [...page.matchAll(/<form\b([^>]*)>([\s\S]*?)<\/form>/g)].flatMap(
    ([, head = "", body = ""]) => {
      if (!/method="post"/i.test(head)) return [];
      const action = decode(/\baction="([^"]*)"/.exec(head)?.[1] ?? here);
      return [
        { action: new URL(action, `https://shop.test${here}`).pathname, fields: fieldsIn(body) },
      ];
    },
  );
}

function fieldsIn(body: string): [string, string][] {
  const tags = body.matchAll(/<(input|select|textarea|button)\b([^>]*)>([^<]*)/g);
  return [...tags].flatMap(([, tag, attributes = "", rest = ""]): [string, string][] => {
    const name = /\bname="([^"]*)"/.exec(attributes)?.[1];
    if (name === undefined) return [];
    const value = decode(/\bvalue="([^"]*)"/.exec(attributes)?.[1] ?? "");
    return [[decode(name), tag === "textarea" ? decode(rest) : value]];
  });
}

const ENTITIES: Readonly<Record<string, string>> = {
  ...{ amp: "&", lt: "<", gt: ">", quot: '"', "#x27": "'", "#x3D": "=", "#x60": "`" },
};

function decode(text: string): string {
  return text.replace(/&(amp|lt|gt|quot|#x27|#x3D|#x60);/g, (_, name: string) => ENTITIES[name]!);
}
