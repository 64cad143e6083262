/**
 * What a page's last form would send if it were sent as it stands: values, ticks, chosen options.
 */
export function fieldsOn(page: string): [string, string][] {
  const from = page.lastIndexOf('<form method="post"');
  const form = page.slice(from, page.indexOf("</form>", from));
  const fields: [string, string][] = [];
  const tags = form.matchAll(
    /<(input|select|textarea)\b([^>]*)>([\s\S]*?)(?=<(?:input|select|textarea|button)\b|$)/g,
  );
  for (const [, tag, attributes = "", rest = ""] of tags) {
    const name = /\bname="([^"]*)"/.exec(attributes)?.[1];
    if (name === undefined) continue;
    const value = decode(/\bvalue="([^"]*)"/.exec(attributes)?.[1] ?? "");
    const ticks = /type="(checkbox|radio)"/.test(attributes);
    if (tag === "select") {
      const chosen = /<option value="([^"]*)" selected/.exec(rest)?.[1];
      fields.push([name, decode(chosen ?? /<option value="([^"]*)"/.exec(rest)?.[1] ?? "")]);
    } else if (tag === "textarea") fields.push([name, decode(rest.split("</textarea>")[0] ?? "")]);
    else if (!ticks || /\bchecked\b/.test(attributes)) fields.push([name, value]);
  }
  return fields;
}

function decode(text: string): string {
  const entity: Record<string, string> = {
    amp: "&",
    lt: "<",
    gt: ">",
    quot: '"',
    "#x27": "'",
    "#x3D": "=",
    "#x60": "`",
  };
  return text.replace(/&(amp|lt|gt|quot|#x27|#x3D|#x60);/g, (_, name: string) => entity[name]!);
}
