// The page of a handover as lines of text: what is signed is what was read, so the lines go into the entry as they stand.
//
// One page holds so many lines and no more; what does not fit is counted, and stands in the ledger. Of what changed the
// latest are kept; of what ends, the soonest.
import type { Reason } from "../core/facts/reason.ts";
import { displayNumber } from "../core/quantity/display.ts";
import type { Sheet } from "../core/sheet/schema.ts";
import type { HandoverChange, HandoverPage } from "../core/standing/handover.ts";
import type { Names } from "./names.ts";
import { reasonWords } from "./reasons.ts";
import { insideSentence } from "./sentence-case.ts";
import { timeSeenFrom } from "./words/formats.ts";
import { handoverWordsIn } from "./words/handover-words.ts";
import type { Locale } from "./words/language.ts";
import { phraseText } from "./words/phrase.ts";
import { wordsIn } from "./words/words.ts";

export type HandoverTeller = {
  readonly names: Names;
  readonly locale: Locale;
  readonly now_ms: number;
  readonly sheet: Sheet | null;
};

export type HandoverLines = {
  readonly changed: readonly string[];
  readonly ending: readonly string[];
  readonly open: readonly string[];
};

const most = { changed: 22, ending: 14, open: 14 } as const;

export function handoverLines(page: HandoverPage, teller: HandoverTeller): HandoverLines {
  const { locale } = teller;
  const { more } = handoverWordsIn(locale.language);
  const changed = page.changed.map((change) => changeLine(change, teller));
  const missing = changed.length - most.changed;
  const ending = page.ending.map((reason) => reasonLine(reason, teller));
  const open = [
    ...page.asked.map((reason) => reasonLine(reason, teller)),
    ...page.structure.map((line) => structureLine(line, teller)),
  ];
  const first = (lines: readonly string[], count: number): readonly string[] =>
    lines.length <= count ? lines : [...lines.slice(0, count), more(lines.length - count)];
  return {
    changed: missing > 0 ? [more(missing), ...changed.slice(missing)] : changed,
    ending: first(ending, most.ending),
    open: first(open, most.open),
  };
}

function reasonLine(reason: Reason, teller: HandoverTeller): string {
  const { locale, now_ms } = teller;
  const words = handoverWordsIn(locale.language);
  const { title, detail } = reasonWords({ reason, ...teller });
  const said = [phraseText(title), detail].filter((part) => part !== "").join("; ");
  return reason.from_ms !== null && reason.from_ms > now_ms
    ? words.from(timeSeenFrom(now_ms, reason.from_ms, locale), insideSentence(said, locale.language))
    : said;
}

/** One thing that changed, with when and by whom. */
export function changeLine(change: HandoverChange, teller: HandoverTeller): string {
  const { locale, now_ms, names } = teller;
  const words = handoverWordsIn(locale.language);
  return words.line(
    timeSeenFrom(now_ms, change.at_ms, locale),
    whatChanged(change, teller),
    names.person(change.by),
  );
}

function whatChanged({ code, facts }: HandoverChange, { names, locale, sheet }: HandoverTeller): string {
  const { change: say } = handoverWordsIn(locale.language);
  const { finding, walk } = wordsIn(locale.language);
  const text = (name: string): string => String(facts[name] ?? "");
  const number = (name: string, decimals: number): string =>
    displayNumber(Number(facts[name]), decimals, "both", locale.language);
  const inside = (said: string): string => insideSentence(said, locale.language);
  const kind = (): string => inside(finding.kind[text("kind") as "crack"]);
  const where = (): string => names.of("stop", text("stop"));
  switch (code) {
    case "custody":
      return [say.custody[text("custody") as "crew"], text("words")].filter((part) => part !== "").join(": ");
    case "flight":
      return say.flight(number("flight_h", 1), Number(facts["landings"]));
    case "walk":
      return say.walk(walk.kind[text("kind") as "full"]);
    case "walkVoided":
      return say.walkVoided(walk.kind[text("kind") as "full"]);
    case "finding":
      return say.finding(kind(), where(), text("words"));
    case "judged":
      return say.judged(kind(), where(), inside(finding.outcome[text("outcome") as "watch"]));
    case "closed":
      return say.closed(kind(), where());
    case "uplift": {
      const fluid = sheet?.fluids.find(({ id }) => id === facts["fluid"])?.name[locale.language];
      return say.uplift(fluid ?? text("fluid"), `${text("typed")} ${text("unit")}`);
    }
    case "event":
      return say.event(names.of("event", text("event")));
    case "release":
      return [
        say.release(text("words")),
        text("limitations") === "" ? "" : say.limitation(text("limitations")),
      ]
        .filter((part) => part !== "")
        .join(", ");
    case "task":
      return say.task(names.of("task", text("task")));
    case "fitted":
      return say.fitted([names.of("component", text("component")), text("serial")].join(" ").trim());
    case "equipment":
      return (facts["installed"] === true ? say.equipmentOn : say.equipmentOff)(
        names.of("equipment", text("equipment")),
      );
    case "weighed":
      return say.weighed(number("mass_kg", 1));
    case "loaded":
      return say.loaded(number("fuel_kg", 0));
    case "kit":
      return (facts["aboard"] === true ? say.kitOn : say.kitOff)(text("kit"));
    case "sheet":
      return say.sheet;
    default:
      return code satisfies never;
  }
}

function structureLine(
  { code, facts }: HandoverPage["structure"][number],
  { names, locale, now_ms }: HandoverTeller,
): string {
  const { structure: say } = handoverWordsIn(locale.language);
  if (code !== "walkRunning") return say[code];
  const { walk } = wordsIn(locale.language);
  return say.walkRunning(
    walk.kind[String(facts["kind"]) as "full"],
    names.person(String(facts["by"])),
    timeSeenFrom(now_ms, Number(facts["at_ms"]), locale),
  );
}
