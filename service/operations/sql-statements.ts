/**
 * A script of SQL, taken apart into whole statements as it is read, so that a file of any size passes through.
 */

/** What can hold a semicolon that ends nothing. */
const MARK = /['"`;]|--|\bcreate\s+trigger\b|\bcase\b|\bbegin\b|\bend\b/gi;

/**
 * Whole statements, each with its semicolon.
 * @param chunks the text in pieces that may end anywhere
 * @throws SyntaxError when the text ends inside a statement
 */
export async function* statementsOf(chunks: AsyncIterable<string>): AsyncGenerator<string> {
  let rest = "";
  for await (const chunk of chunks) {
    rest += chunk;
    for (let end = endOfStatement(rest); end > 0; end = endOfStatement(rest)) {
      yield rest.slice(0, end);
      rest = rest.slice(end);
    }
  }
  if (rest.replaceAll(/--.*$/gm, "").trim() !== "") {
    throw new SyntaxError("the text ends inside a statement");
  }
}

/** @returns where the first statement is over; 0 when it is not all there */
function endOfStatement(text: string): number {
  let isTrigger = false;
  let depth = 0;
  MARK.lastIndex = 0;
  for (let mark = MARK.exec(text); mark; mark = MARK.exec(text)) {
    const [found] = mark;
    const closing = found === "--" ? "\n" : found;
    if (/^['"`]|--$/.test(found)) {
      const end = text.indexOf(closing, MARK.lastIndex);
      if (end < 0) return 0;
      MARK.lastIndex = end + 1; // a doubled quotation mark simply opens the next text
      continue;
    }
    if (found === ";") {
      if (depth === 0) return MARK.lastIndex;
      continue;
    }
    if (/^create/i.test(found)) isTrigger = true;
    else if (isTrigger) depth += /^end$/i.test(found) ? -1 : 1;
  }
  return 0;
}
