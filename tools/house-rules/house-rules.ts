// Rules of the house that neither compiler nor linter knows: what may not be left over, how files are named, what a
// file begins with. Text rules, deliberately plain; planted breaches stand in house-rules.test.ts.
import type { Breach, SourceFile } from "../source-files.ts";

type HouseRule = {
  readonly name: string;
  readonly why: string;
  readonly appliesTo: RegExp;
  /** Matches in the text, or in the path. Every match is a breach. */
  readonly inText?: RegExp;
  readonly inPath?: RegExp;
};

const ownCode = /^(?:src|bin|tools|demo|published|sim|bench|e2e)\//u;

export const houseRules: readonly HouseRule[] = [
  {
    name: "leftover",
    why: "what is not done is said in words where it matters, not left as a mark in the code",
    appliesTo: /./u,
    inText: /\b(?:FIXME|TODO|XXX|HACK)\b/gu,
  },
  {
    name: "focused-test",
    why: "it hides all other tests",
    appliesTo: /\.(?:test|spec)\.tsx?$/u,
    inText: /\b(?:describe|it|test|suite)(?:\.\w+)*\.only\b/gu,
  },
  {
    name: "skipped-test",
    why: "a test that does not run looks like one that passes; say the condition with runIf or skipIf",
    appliesTo: /\.(?:test|spec)\.tsx?$/u,
    inText:
      /\b(?:x(?:describe|it|test)|(?:describe|it|test|suite)(?:\.\w+)*\.(?:skip|todo|fixme))\(\s*["'`]/gu,
  },
  {
    name: "workplace-word",
    why: "it tells where or with what a line was written instead of what it is about",
    appliesTo: /./u,
    inText:
      /(?<![\w.~*])\/(?:work|tmp|root|home)\/|\bregistry\.[a-z]+\.\w+|\b(?:issue|ticket) #\d+|\bsub-?agents?\b|\blanguage model\b|\bchat ?bot\b|\b(?:AI|machine)[- ](?:generated|written)\b|\bthis session\b|\bthe brief\b|\bco-authored-by\b/giu,
  },
  {
    name: "file-name",
    why: "files, also those of components, are named in kebab-case after their main export",
    appliesTo: ownCode,
    inPath: /^(?!(?:.*\/)?[a-z0-9]+(?:-[a-z0-9]+)*(?:\.[a-z0-9]+(?:-[a-z0-9]+)*)+$|(?:.*\/)?README\.md$).*$/u,
  },
  {
    name: "vague-name",
    why: "such a name says nothing and ends up holding everything",
    appliesTo: ownCode,
    inPath: /(?:^|[/.-])(?:utils?|helpers?|common|misc|shared|stuff)(?:[/.-]|$)/u,
  },
  {
    name: "file-head",
    why: "a file says first what it computes or keeps, from what, where it is valid and what it refuses",
    appliesTo: /^src\/(?:core|ledger|sync|store)\/(?!.*\.test\.ts$).*\.ts$/u,
    inText: /^(?!\/\/|\/\*)/gu,
  },
];

/** Breaches of all rules in all files; a run that looked at nearly nothing is a breach itself. */
export function checkHouse(files: readonly SourceFile[], fewestFiles = 10): readonly Breach[] {
  const breaches: Breach[] = [];
  for (const { path, text } of files) {
    for (const { name, why, appliesTo, inText, inPath } of houseRules) {
      if (!appliesTo.test(path)) continue;
      if (inPath?.test(path) === true) breaches.push({ rule: name, path, line: 1, found: why });
      for (const match of inText === undefined ? [] : text.matchAll(inText)) {
        const line = text.slice(0, match.index).split("\n").length;
        breaches.push({ rule: name, path, line, found: match[0] === "" ? why : `${match[0]} (${why})` });
      }
    }
  }
  if (files.length < fewestFiles)
    breaches.push({ rule: "visited-nothing", path: ".", line: 0, found: `${files.length} files` });
  return breaches;
}
