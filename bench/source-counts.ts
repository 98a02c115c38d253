/**
 * Size figures of the source, in Markdown: `npx tsx bench/source-counts.ts [--list]`. `--list` also names the longest functions and
 * those with the most parameters.
 */
import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { parseAst } from "rolldown/parseAst";

const root = fileURLToPath(new URL("../", import.meta.url));
const source = join(root, "src");
const LONG_LINES = 60;
const MANY_PARAMETERS = 6;

interface Node {
  readonly type: string;
  readonly start: number;
  readonly end: number;
  readonly [key: string]: unknown;
}

interface CountedFunction {
  readonly name: string;
  readonly file: string;
  readonly lines: number;
  readonly parameters: number;
}

const isNode = (value: unknown): value is Node =>
  typeof value === "object" && value !== null && "type" in value;

function nameOf(node: Node, parent: Node | undefined): string {
  const id = node.id ?? parent?.id ?? parent?.key;
  return isNode(id) && typeof id.name === "string" ? id.name : "(unnamed)";
}

function functionsIn(file: string): CountedFunction[] {
  const text = readFileSync(file, "utf8");
  const lineAt = (offset: number): number => text.slice(0, offset).split("\n").length;
  const found: CountedFunction[] = [];
  const visit = (node: Node, parent?: Node): void => {
    if (/^(FunctionDeclaration|FunctionExpression|ArrowFunctionExpression)$/.test(node.type)) {
      found.push({
        name: nameOf(node, parent),
        file: relative(root, file),
        lines: lineAt(node.end) - lineAt(node.start) + 1,
        parameters: Array.isArray(node.params) ? node.params.length : 0,
      });
    }
    for (const part of Object.values(node)) {
      for (const each of Array.isArray(part) ? part : [part]) if (isNode(each)) visit(each, node);
    }
  };
  visit(parseAst(text, { lang: file.endsWith(".ts") ? "ts" : "js" }) as unknown as Node);
  return found;
}

const files = readdirSync(source, { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile() && /\.(ts|js)$/.test(entry.name))
  .map((entry) => join(entry.parentPath, entry.name))
  .filter((file) => !file.includes("simd/built"));
// AssemblyScript has other decorators and operators than TypeScript, so its files count only as lines.
const parsed = files.filter((file) => !file.includes("/simd/"));
const linesOf = (file: string): number => readFileSync(file, "utf8").split("\n").length - 1;
const functions = parsed.flatMap(functionsIn);
const long = functions.filter(({ lines }) => lines > LONG_LINES).sort((a, b) => b.lines - a.lines);
const wide = functions
  .filter(({ parameters }) => parameters >= MANY_PARAMETERS)
  .sort((a, b) => b.parameters - a.parameters);
const longest = [...files].sort((a, b) => linesOf(b) - linesOf(a))[0];
const exported = readFileSync(join(source, "index.ts"), "utf8").match(/\b\w+(?=,|\s*\})/g)?.length ?? 0;

console.log("| count | |\n|---|---|");
console.log(`| files | ${files.length} |`);
console.log(`| lines | ${files.reduce((sum, file) => sum + linesOf(file), 0)} |`);
console.log(`| functions | ${functions.length} |`);
console.log(`| of over ${LONG_LINES} lines | ${long.length} |`);
console.log(`| of ${MANY_PARAMETERS} parameters or more | ${wide.length} |`);
console.log(`| longest file | ${relative(root, longest)}, ${linesOf(longest)} lines |`);
console.log(`| names in src/index.ts, types included | ${exported} |`);
if (process.argv.includes("--list")) {
  for (const { name, file, lines, parameters } of [...long, ...wide]) {
    console.log(`${lines} lines, ${parameters} parameters: ${name} (${file})`);
  }
}
