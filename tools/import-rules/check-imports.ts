// Holds sources to the table of rooms (table.ts) and to the banned words (banned-words.ts).
import { dirname, posix } from "node:path";
import type { Breach, SourceFile } from "../source-files.ts";
import { whyBanned } from "./banned-words.ts";
import { type ModuleRead, readModule } from "./read-module.ts";
import { type Room, rooms, testsMayImport } from "./table.ts";

/** The names under which a breach is reported. Each has a planted one in planted.ts. */
export const importRules = [
  "room-imports-room",
  "room-imports-package",
  "room-imports-node",
  "room-imports-computed-name",
  "source-imports-test",
  "room-is-in-the-table",
  "room-circle",
  "banned-word",
  "visited-nothing",
] as const;

/** Fewer files than this and the checker has looked in the wrong place. */
const fewestFiles = 10;

/** Checks all files together. Files outside the rooms of the table (tools, benches) may import what they like. */
export function checkImports(files: readonly SourceFile[], fewest = fewestFiles): readonly Breach[] {
  const breaches: Breach[] = [];
  const edges = new Map<string, Map<string, Breach>>();
  let visited = 0;
  for (const { path, text } of files) {
    if (!path.startsWith("src/") && roomOf(path) === null) continue;
    visited += 1;
    const read = readModule(path, text);
    breaches.push(...checkModule(path, read));
    if (!isTest(path)) noteEdges(path, read, edges);
  }
  breaches.push(...circles(edges));
  if (visited < fewest)
    breaches.push({
      rule: "visited-nothing",
      path: "src",
      line: 0,
      found: `${visited} files, wanted ${fewest} or more`,
    });
  return breaches;
}

function checkModule(path: string, { imports, words }: ModuleRead): readonly Breach[] {
  const room = roomOf(path);
  if (room === null) return [{ rule: "room-is-in-the-table", path, line: 1, found: dirname(path) }];
  const test = isTest(path);
  const breaches: Breach[] = [];
  for (const { line, from } of imports) {
    const rule = ruleBroken(path, room, from, test);
    if (rule !== null)
      breaches.push({ rule, path, line, found: `${room.room} may not import ${from ?? "a computed name"}` });
  }
  if (room.pure && !test) {
    for (const { line, word } of words) {
      const why = whyBanned(word);
      if (why !== null)
        breaches.push({ rule: "banned-word", path, line, found: `${word} in ${room.room}: ${why}` });
    }
  }
  return breaches;
}

function ruleBroken(path: string, room: Room, from: string | null, test: boolean): string | null {
  if (from === null) return "room-imports-computed-name";
  if (from.startsWith("node:")) return room.node || test ? null : "room-imports-node";
  if (from.startsWith(".")) {
    const target = resolve(path, from);
    if (!test && isTest(target)) return "source-imports-test";
    if (test && testsMayImport.some((allowed) => isUnder(target, allowed))) return null;
    const other = roomOf(target);
    if (other !== null && (other.room === room.room || room.mayImport.includes(other.room))) return null;
    return "room-imports-room";
  }
  const name = from.split("/", from.startsWith("@") ? 2 : 1).join("/");
  return test || room.packages === "any" || room.packages.includes(name) ? null : "room-imports-package";
}

/** The room with the longest name that `path` begins with, or null. */
function roomOf(path: string): Room | null {
  let best: Room | null = null;
  for (const room of rooms) {
    if (isUnder(path, room.room) && room.room.length > (best?.room.length ?? 0)) best = room;
  }
  return best;
}

function isUnder(path: string, room: string): boolean {
  return path.startsWith(room.endsWith("*") ? room.slice(0, -1) : `${room}/`);
}

/** Tests, and what only tests use: generators for property tests (`arbitrary-….ts`). */
function isTest(path: string): boolean {
  return /\.test\.tsx?$|\/arbitrary-[^/]+\.ts$/u.test(path);
}

function resolve(path: string, from: string): string {
  return posix.join(posix.dirname(path), from.replace(/\?.*$/u, ""));
}

function noteEdges(path: string, { imports }: ModuleRead, edges: Map<string, Map<string, Breach>>): void {
  const own = roomOf(path);
  if (own === null || !own.room.startsWith("src/core/")) return;
  for (const { line, from } of imports) {
    if (from === null || !from.startsWith(".")) continue;
    const other = roomOf(resolve(path, from));
    if (other === null || other.room === own.room) continue;
    const known = edges.get(own.room) ?? new Map<string, Breach>();
    if (!known.has(other.room))
      known.set(other.room, { rule: "room-circle", path, line, found: `${own.room} → ${other.room}` });
    edges.set(own.room, known);
  }
}

/** One breach for every import that lies on a circle of rooms. */
function circles(edges: ReadonlyMap<string, ReadonlyMap<string, Breach>>): readonly Breach[] {
  const reaches = (from: string, wanted: string, seen = new Set<string>()): boolean => {
    if (from === wanted) return true;
    if (seen.has(from)) return false;
    seen.add(from);
    return [...(edges.get(from)?.keys() ?? [])].some((next) => reaches(next, wanted, seen));
  };
  return [...edges].flatMap(([from, targets]) =>
    [...targets].filter(([to]) => reaches(to, from)).map(([, breach]) => breach),
  );
}
