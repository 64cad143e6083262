/**
 * The house rules that a machine can check, read from the source with TypeScript's own parser. Each check takes a
 * file's path and text and returns complaints, so that planted samples prove that it bites.
 */
import ts from "typescript";

export interface SourceFile {
  /** Path from the top of the project, with forward slashes. */
  readonly path: string;
  readonly text: string;
}

/** Chapters of the core, by how far down the story they stand. Compose and judge count as one. */
const CHAPTER_RANK: Readonly<Record<string, number>> = {
  compose: 0,
  judge: 0,
  price: 1,
  order: 2,
  make: 3,
};

/** What each folder may import: other folders, and packages by name. */
const MAY_IMPORT: Readonly<
  Record<string, { folders: readonly string[]; packages: readonly string[] | "any" }>
> = {
  core: { folders: [], packages: [] },
  data: { folders: ["core"], packages: ["drizzle-orm", "drizzle-kit", "zod"] },
  service: { folders: ["core", "data"], packages: "any" },
  widget: { folders: ["core"], packages: [] },
};

/** Names that bring the world into the core: network, page, process and chance. */
const NOT_IN_CORE = new Set([
  ...["crypto", "fetch", "document", "process", "globalThis", "performance", "localStorage"],
  ...["setTimeout", "setInterval", "XMLHttpRequest", "require", "console"],
]);

const LINES_GREATEST = 300;
const COLUMNS_GREATEST = 120;
/** A line may run longer when a string of at least this length stands on it: the formatter cannot break it. */
const LONG_STRING = 40;

/** Wrong arrows between folders and chapters. */
export function arrowComplaints({ path, text }: SourceFile): string[] {
  return ts.preProcessFile(text, true, true).importedFiles.flatMap(({ fileName, pos }) => {
    const complaint = arrowComplaint(path, fileName, isTypeImport(text, pos));
    return complaint ? [`${path} imports ${fileName}: ${complaint}`] : [];
  });
}

function arrowComplaint(path: string, specifier: string, typeOnly: boolean): string | undefined {
  const [folder = ""] = path.split("/");
  const allowed = MAY_IMPORT[folder];
  if (!allowed) return undefined;
  const target = targetOf(path, specifier);
  if (target === undefined) {
    const name = specifier.replace(/^((?:@[^/]+\/)?[^/]+).*$/, "$1");
    const fine = allowed.packages === "any" || allowed.packages.includes(name);
    return fine ? undefined : `${folder} may not use this package`;
  }
  if (specifier.startsWith(".") && !/\.(ts|mjs|js|css|json)$/.test(specifier)) {
    return "a relative import names its file with the ending";
  }
  const [targetFolder = ""] = target.split("/");
  if (targetFolder !== folder) {
    if (specifier.startsWith(".") && MAY_IMPORT[targetFolder]) {
      return `across folders write #${targetFolder}/`;
    }
    if (MAY_IMPORT[targetFolder] && !allowed.folders.includes(targetFolder)) {
      return `${folder} may not import ${targetFolder}`;
    }
    return undefined;
  }
  return folder === "core" ? chapterComplaint(path, target, typeOnly) : undefined;
}

function chapterComplaint(path: string, target: string, typeOnly: boolean): string | undefined {
  const [own, other] = [chapterOf(path), chapterOf(target)];
  if (other === undefined) return undefined; // files at the root of the core serve every chapter
  if (own === undefined) return typeOnly ? undefined : "the root may take types of a chapter only";
  return CHAPTER_RANK[other]! > CHAPTER_RANK[own]! ? `${own} comes before ${other}` : undefined;
}

function chapterOf(path: string): string | undefined {
  const [, chapter = "", ...rest] = path.split("/");
  return rest.length > 0 && chapter in CHAPTER_RANK ? chapter : undefined;
}

/** Path of what is imported; nothing for a package. */
function targetOf(path: string, specifier: string): string | undefined {
  if (specifier.startsWith("#")) return specifier.slice(1);
  if (!specifier.startsWith(".")) return undefined;
  const steps = path.split("/").slice(0, -1);
  for (const step of specifier.split("/")) {
    if (step === "..") steps.pop();
    else if (step !== ".") steps.push(step);
  }
  return steps.join("/");
}

function isTypeImport(text: string, pos: number): boolean {
  const before = text.slice(0, pos);
  const statement = before.slice(
    Math.max(before.lastIndexOf("import "), before.lastIndexOf("export ")),
  );
  return /^(import|export) type\b/.test(statement);
}

/** Clock, chance, network, page or process in the core. */
export function purityComplaints(file: SourceFile): string[] {
  const complaints: string[] = [];
  const source = parse(file);
  walk(source, (node) => {
    if (!ts.isIdentifier(node) || isOnlyALabel(node)) return;
    const use = useOfTheWorld(node);
    if (!use) return;
    const { line } = source.getLineAndCharacterOfPosition(node.getStart(source));
    complaints.push(`${file.path}:${line + 1} uses ${use}`);
  });
  return complaints;
}

function useOfTheWorld(node: ts.Identifier): string | undefined {
  if (NOT_IN_CORE.has(node.text)) return node.text;
  const { parent } = node;
  const member = ts.isPropertyAccessExpression(parent) ? parent.name.text : undefined;
  if (node.text === "Math" && member === "random") return "Math.random";
  if (node.text !== "Date") return undefined;
  if (member === "now") return "Date.now";
  // A date that was handed in may be read; the present may not be asked for.
  if (ts.isCallExpression(parent)) return "Date()";
  const asksForNow = ts.isNewExpression(parent) && (parent.arguments ?? []).length === 0;
  return asksForNow ? "new Date()" : undefined;
}

/** Whether a file calls fetch itself. */
export function callsFetch(file: SourceFile): boolean {
  let found = false;
  walk(parse(file), (node) => {
    if (!ts.isCallExpression(node)) return;
    const { expression } = node;
    const owner = ts.isPropertyAccessExpression(expression) ? expression.expression : undefined;
    const name = ts.isPropertyAccessExpression(expression) ? expression.name : expression;
    const bare = !owner || ["window", "globalThis", "self"].includes(owner.getText());
    if (bare && ts.isIdentifier(name) && name.text === "fetch") found = true;
  });
  return found;
}

/** A property, parameter or key of that name is no use of the global one. */
function isOnlyALabel(node: ts.Identifier): boolean {
  const { parent } = node;
  return (
    (ts.isPropertyAccessExpression(parent) && parent.name === node) ||
    (ts.isPropertyAssignment(parent) && parent.name === node) ||
    ts.isPropertySignature(parent) ||
    ts.isPropertyDeclaration(parent) ||
    ts.isMethodSignature(parent)
  );
}

export function defaultExportComplaints(file: SourceFile): string[] {
  const found = parse(file).statements.some(
    (statement) =>
      (ts.isExportAssignment(statement) && !statement.isExportEquals) ||
      (ts.canHaveModifiers(statement) &&
        ts.getModifiers(statement)?.some(({ kind }) => kind === ts.SyntaxKind.DefaultKeyword) ===
          true) ||
      (ts.isExportDeclaration(statement) &&
        statement.exportClause !== undefined &&
        ts.isNamedExports(statement.exportClause) &&
        statement.exportClause.elements.some(({ name }) => name.text === "default")),
  );
  return found ? [`${file.path} has a default export`] : [];
}

export function lengthComplaints({ path, text }: SourceFile): string[] {
  const lines = text.replace(/\n$/, "").split("\n").length;
  return lines > LINES_GREATEST ? [`${path} has ${lines} lines; ${LINES_GREATEST} are enough`] : [];
}

export function widthComplaints(file: SourceFile): string[] {
  const { path, text } = file;
  if (text.split("\n").every((line) => line.length <= COLUMNS_GREATEST)) return [];
  const source = parse(file);
  const excused = new Set<number>();
  walk(source, (node) => {
    if (!ts.isStringLiteralLike(node) && !ts.isTemplateExpression(node)) return;
    if (node.getWidth(source) < LONG_STRING) return;
    const from = source.getLineAndCharacterOfPosition(node.getStart(source)).line;
    const to = source.getLineAndCharacterOfPosition(node.getEnd()).line;
    for (let line = from; line <= to; line++) excused.add(line);
  });
  return text.split("\n").flatMap((line, at) => {
    const width = [...line].length;
    return width > COLUMNS_GREATEST && !excused.has(at)
      ? [`${path}:${at + 1} is ${width} columns wide; ${COLUMNS_GREATEST} are enough`]
      : [];
  });
}

/** Paths of the machine the work was done on, and hosts packages came from. */
export function traceComplaints({ path, text }: SourceFile): string[] {
  const traces = [/(^|[\s"'`(=:,])\/(work|root|home)\/\w/m, /\bregistry\.[\w-]+\.\w+/i];
  return traces.flatMap((trace) => {
    const found = trace.exec(text);
    return found ? [`${path} carries "${found[0].trim()}"`] : [];
  });
}

const parsed = new WeakMap<SourceFile, ts.SourceFile>();

function parse(file: SourceFile): ts.SourceFile {
  let source = parsed.get(file);
  if (!source) {
    source = ts.createSourceFile(file.path, file.text, ts.ScriptTarget.ES2023, true);
    parsed.set(file, source);
  }
  return source;
}

function walk(node: ts.Node, visit: (node: ts.Node) => void): void {
  visit(node);
  ts.forEachChild(node, (child) => walk(child, visit));
}
