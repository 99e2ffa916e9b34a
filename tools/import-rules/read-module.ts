// Reads one TypeScript module: what it imports, in every form that the language has, and which words in it could be
// banned ones. Syntax comes from oxc-parser; nothing is matched by pattern.
import { parseSync, visitorKeys } from "oxc-parser";

export type Import = {
  readonly line: number;
  /** What is imported; null when the name is computed. */
  readonly from: string | null;
};

/** A word that means something outside the file: `Date.now`, `fetch`, `new Date()`, `.getHours`. */
export type Word = { readonly line: number; readonly word: string };

export type ModuleRead = { readonly imports: readonly Import[]; readonly words: readonly Word[] };

type Node = { readonly type: string; readonly start: number } & Readonly<Record<string, unknown>>;

/** Throws with path and position when the text is no TypeScript. */
export function readModule(path: string, text: string): ModuleRead {
  const { program, errors } = parseSync(path, text);
  const [error] = errors;
  if (error !== undefined) throw new Error(`${path}: ${error.message}`);

  const imports: Import[] = [];
  const candidates: (Word & { readonly name: string })[] = [];
  const declared = new Set<string>();
  const lineAt = lineFinder(text);

  const visit = (node: Node, parent: Node | null): void => {
    const line = lineAt(node.start);
    const source = sourceOf(node);
    if (source !== undefined) imports.push({ line, from: source });
    declare(node, declared);
    for (const word of wordsOf(node, parent)) candidates.push({ line, ...word });
    for (const key of visitorKeys[node.type] ?? []) {
      for (const child of [node[key]].flat()) if (isNode(child)) visit(child, node);
    }
  };
  visit(program as unknown as Node, null);
  // A name that the file declares itself is the file's own: a parameter `crypto` is how a pure room gets its crypto.
  // Which scope declares it is not asked; the compiler, run without DOM and Node types, refuses what slips through.
  const words = candidates
    .filter(({ name }) => !declared.has(name))
    .map(({ line, word }) => ({ line, word }));
  return { imports, words };
}

function isNode(value: unknown): value is Node {
  return typeof value === "object" && value !== null && "type" in value && typeof value.type === "string";
}

/** What a node imports: a name, null for a computed one, undefined when it imports nothing. */
function sourceOf(node: Node): string | null | undefined {
  switch (node.type) {
    case "ImportDeclaration":
    case "ExportAllDeclaration":
    case "TSImportType":
    case "ImportExpression":
      return constantText(node.source);
    case "ExportNamedDeclaration":
      return node.source === null ? undefined : constantText(node.source);
    case "TSExternalModuleReference":
      return constantText(node.expression);
    case "CallExpression":
      return isNamed(node.callee, "require") ? constantText([node.arguments].flat()[0]) : undefined;
    default:
      return undefined;
  }
}

function constantText(node: unknown): string | null {
  if (!isNode(node)) return null;
  if (node.type === "Literal" && typeof node.value === "string") return node.value;
  if (node.type !== "TemplateLiteral" || [node.expressions].flat().length > 0) return null;
  const [quasi] = [node.quasis].flat() as { value?: { cooked?: string } }[];
  return quasi?.value?.cooked ?? null;
}

function isNamed(node: unknown, name: string): boolean {
  return isNode(node) && node.type === "Identifier" && node.name === name;
}

function declare(node: Node, declared: Set<string>): void {
  const bind = (pattern: unknown): void => {
    if (!isNode(pattern)) return;
    if (pattern.type === "Identifier") declared.add(String(pattern.name));
    else if (pattern.type === "Property") bind(pattern.value);
    else if (pattern.type === "AssignmentPattern") bind(pattern.left);
    else if (pattern.type === "RestElement") bind(pattern.argument);
    else if (pattern.type === "ObjectPattern") [pattern.properties].flat().forEach(bind);
    else if (pattern.type === "ArrayPattern") [pattern.elements].flat().forEach(bind);
  };
  if (node.type === "VariableDeclarator" && node.declare !== true) bind(node.id);
  else if (/^(Function|Class)(Declaration|Expression)$/u.test(node.type)) bind(node.id);
  else if (/^Import(|Default|Namespace)Specifier$/u.test(node.type)) bind(node.local);
  else if (node.type === "CatchClause") bind(node.param);
  if (/Function/u.test(node.type)) [node.params].flat().forEach(bind);
}

/** The words that a node says, each with the name that would have to be declared to make it the file's own. */
function wordsOf(node: Node, parent: Node | null): readonly { word: string; name: string }[] {
  switch (node.type) {
    case "MetaProperty":
      return [{ word: "import.meta", name: "import.meta" }];
    case "MemberExpression": {
      if (node.computed === true || !isNode(node.property)) return [];
      const member = `.${String(node.property.name)}`;
      const words = [{ word: member, name: member }];
      if (isNode(node.object) && node.object.type === "Identifier") {
        const name = String(node.object.name);
        words.push({ word: name + member, name });
      }
      return words;
    }
    case "CallExpression":
      return isNamed(node.callee, "Date") ? [{ word: "Date()", name: "Date" }] : [];
    case "NewExpression": {
      if (!isNamed(node.callee, "Date")) return [];
      const count = [node.arguments].flat().length;
      return [{ word: ["new Date()", "new Date(x)"][count] ?? "new Date(x, y)", name: "Date" }];
    }
    case "Identifier":
      return isOnlyAName(node, parent) ? [] : [{ word: String(node.name), name: String(node.name) }];
    default:
      return [];
  }
}

/** True for an identifier that names a part and refers to nothing: `.x`, `{ x: … }`, a type's name, a declared name. */
function isOnlyAName(node: Node, parent: Node | null): boolean {
  if (parent === null) return false;
  switch (parent.type) {
    case "MemberExpression":
      return parent.property === node && parent.computed !== true;
    case "Property":
    case "MethodDefinition":
    case "PropertyDefinition":
      return parent.key === node && parent.computed !== true;
    case "LabeledStatement":
    case "BreakStatement":
    case "ContinueStatement":
    case "ImportSpecifier":
    case "ExportSpecifier":
    case "MetaProperty":
      return true;
    default:
      // A type may be called Window or Crypto: it is gone at run time, and without the DOM's types it must be our own.
      return (
        parent.type.startsWith("TS") &&
        !/^TS(As|Satisfies|NonNull|TypeAssertion|Instantiation)/u.test(parent.type)
      );
  }
}

function lineFinder(text: string): (offset: number) => number {
  const starts = [0];
  for (let at = text.indexOf("\n"); at >= 0; at = text.indexOf("\n", at + 1)) starts.push(at + 1);
  return (offset) => {
    let low = 0;
    let high = starts.length;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if ((starts[middle] ?? Infinity) <= offset) low = middle;
      else high = middle;
    }
    return low + 1;
  };
}
