// The standing of one machine: the verdict in large words, every operation as a ribbon, and what can change it, soonest
// to clear first. A reason opens to its entries, its source and what clears it.
import { lazy, Suspense, useState } from "react";
import { hour_ms } from "../../core/facts/instant.ts";
import type { Reason } from "../../core/facts/reason.ts";
import type { OperationStanding } from "../../core/standing/assess.ts";
import { compareReasons, compareVerdicts, isActive, touches } from "../../core/standing/combine.ts";
import { countingCustody } from "../../core/standing/custody.ts";
import type { WalkKind } from "../../core/facts/craft.ts";
import { planWalk } from "../../core/walk/plan.ts";
import { secondsLeft } from "../../core/walk/pace.ts";
import { walksOfKind } from "../../core/walk/validity.ts";
import { reasonWords } from "../../present/reasons.ts";
import { asTitle, insideSentence } from "../../present/sentence-case.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { ReasonList } from "../parts/reasons.tsx";
import { StandingRows } from "../parts/ribbon.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import type { BigButton } from "../parts/two-buttons.tsx";
import { Verdict } from "../parts/verdict.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { Frame } from "./frame.tsx";
import { ReasonSheet } from "./reason-sheet.tsx";
import { TakeOver } from "./take-over.tsx";
import { clearsBy, decidingReason, endsFirst, reasonLine } from "./told.ts";
import type { Teller } from "./told.ts";

const StandingLine = lazy(async () => ({ default: (await import("./standing-line.tsx")).StandingLine }));
const WhatHelps = lazy(async () => ({ default: (await import("./what-helps.tsx")).WhatHelps }));

const shown_h = 24;

export function StandingScreen({ craft }: { readonly craft: CraftView }) {
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  const { standing: words, screens } = useWords();
  const [opened, setOpened] = useState<Reason | null>(null);
  const [takingOver, setTakingOver] = useState(false);
  const [line, setLine] = useState<string | null>(null);
  const teller = { names, locale, now_ms };
  const { operations } = craft.standing;
  const [main] = operations;
  if (main === undefined) return null;
  const time = { from_ms: now_ms - hour_ms / 2, until_ms: now_ms + shown_h * hour_ms, now_ms };
  const rows = reasonRows(craft, teller, screens.standing, setOpened);
  return (
    <Frame
      craft={craft}
      name={craft.name}
      foot={<NextStep craft={craft} onTakeOver={() => setTakingOver(true)} />}
    >
      <div className="columns">
        <div className="stack">
          <Verdict verdict={main.verdict} then={thenLine(main, teller, screens.standing.andMore)} />
          <StandingRows
            time={time}
            rows={(["machine", "sky"] as const).map((row) => ({
              id: row,
              name: asTitle(row === "sky" ? words.weather : words.machineAndCrew, locale.language),
              note: words.verdictLow[main.rows[row][0]?.verdict ?? "notKnown"],
              spans: main.rows[row],
            }))}
          />
          <StandingRows
            time={time}
            rows={operations.map((operation) => ({
              id: operation.operation,
              name: names.title("operation", operation.operation),
              note: noteOf(craft, operation.operation, teller) ?? words.verdictLow[operation.verdict],
              spans: operation.line,
              kept: operation.kept.line,
              onOpen: () => setLine(operation.operation),
            }))}
          />
        </div>
        <div className="stack-wide">
          {compareVerdicts(main.verdict, "withinLimits") > 0 && (
            <Suspense fallback={null}>
              <WhatHelps help={main.help} teller={teller} />
            </Suspense>
          )}
          <ReasonList reasons={rows.filter(({ later }) => !later)} />
          {rows.some(({ later }) => later) && (
            <ReasonList heading={screens.standing.later} reasons={rows.filter(({ later }) => later)} after />
          )}
        </div>
      </div>
      <ReasonSheet craft={craft} reason={opened} onClose={() => setOpened(null)} />
      <Suspense fallback={null}>
        <StandingLine craft={craft} operation={line} onClose={() => setLine(null)} />
      </Suspense>
      <TakeOver craft={craft} open={takingOver} onClose={() => setTakingOver(false)} />
    </Frame>
  );
}

/** Under the verdict: for which kind of flying, what makes it so, until when. */
function thenLine(standing: OperationStanding, teller: Teller, andMore: (count: number) => string): string {
  const operation = teller.names.title("operation", standing.operation);
  const worst = decidingReason(standing);
  const alike = standing.reasons.filter(({ effect }) => effect === worst?.effect).length;
  const why =
    worst === null
      ? null
      : [
          insideSentence(reasonLine(worst, teller), teller.locale.language),
          alike > 1 ? andMore(alike - 1) : null,
        ]
          .filter((part) => part !== null)
          .join(" ");
  const until = endsFirst(standing, teller);
  return [why === null ? operation : `${operation}: ${why}`, until]
    .filter((part) => part !== null)
    .join(", ");
}

/** What stands against an operation now, in one line: the worst of its active reasons. */
function noteOf(craft: CraftView, operation: string, teller: Teller): string | null {
  const standing = craft.standing.operations.find((candidate) => candidate.operation === operation);
  if (standing === undefined || standing.verdict === "ready") return null;
  const worst = decidingReason(standing);
  const forbidding = standing.reasons.filter(({ effect }) => effect === worst?.effect);
  // What touches this operation alone tells more than what touches all.
  const own = forbidding.find(
    ({ operations }) => operations !== "all" && operations.length < craft.standing.operations.length,
  );
  const [first] = forbidding;
  const said = own ?? first;
  return said === undefined ? null : reasonLine(said, teller);
}

type RowWords = { readonly from: (time: string) => string; readonly only: (operations: string) => string };

function reasonRows(craft: CraftView, teller: Teller, words: RowWords, onOpen: (reason: Reason) => void) {
  const { reasons, operations } = craft.standing;
  const { now_ms, locale, names } = teller;
  const touched = (reason: Reason): string | null => {
    const ids = operations
      .map(({ operation }) => operation)
      .filter((operation) => touches(reason, operation));
    return ids.length === operations.length
      ? null
      : words.only(ids.map((id) => names.of("operation", id)).join(", "));
  };
  return reasons
    .filter((reason) => isActive(reason, now_ms) || (reason.from_ms !== null && reason.from_ms > now_ms))
    .toSorted((a, b) => Number(isActive(b, now_ms)) - Number(isActive(a, now_ms)) || compareReasons(a, b))
    .map((reason, index) => {
      const { title, detail } = reasonWords({ reason, ...teller });
      const from =
        reason.from_ms !== null && reason.from_ms > now_ms
          ? words.from(timeSeenFrom(now_ms, reason.from_ms, locale))
          : null;
      const details = [from, detail === "" ? null : detail, touched(reason)].filter((part) => part !== null);
      return {
        id: `${reason.code} ${index}`,
        later: from !== null,
        effect: reason.effect,
        title,
        detail: details.join("; "),
        clears: clearsBy(reason, locale),
        onOpen: () => onOpen(reason),
      };
    });
}

/** About how long a walk of this kind takes on this craft, in whole minutes. */
function minutesFor({ sheet, state }: CraftView, kind: WalkKind): number {
  if (sheet === null) return 0;
  return Math.ceil(secondsLeft(sheet, state, kind, planWalk(sheet, state, kind, {}).rows) / 60);
}

/** The two buttons: the next walk at the thumb, the rarer thing beside it. */
function NextStep({ craft, onTakeOver }: { readonly craft: CraftView; readonly onTakeOver: () => void }) {
  const { me } = useSnapshot();
  const { goTo } = useApp();
  const { walk, app, screens } = useWords();
  const name = craft.ledger.replace("craft:", "");
  const custody = countingCustody(craft.state);
  const mine = custody?.custody === "crew" && me !== null && custody.people.includes(me.id);
  const running = (["full", "launch", "parking"] as const).flatMap((kind) =>
    walksOfKind(craft.state, kind).filter(
      ({ finished, voided }) => finished.length === 0 && voided.length === 0,
    ),
  )[0];
  const fullDue = craft.standing.reasons.some(
    ({ code, remedy, from_ms }) =>
      code.startsWith("walk.") && remedy.code === "walk.doFull" && from_ms === null,
  );
  const kind = fullDue ? "full" : "launch";
  const right: BigButton = {
    children: running === undefined ? walk.kind[kind] : screens.standing.walkOn,
    note: running === undefined ? walk.aboutMinutes(minutesFor(craft, kind)) : walk.kind[running.kind],
    onPress: () => goTo({ screen: "walk", craft: name }),
  };
  const left: BigButton = mine
    ? { children: app.screens.findings, onPress: () => goTo({ screen: "findings", craft: name }) }
    : { children: screens.standing.takeOver, note: screens.standing.takeOverNote, onPress: onTakeOver };
  return <TwoButtons left={left} right={right} />;
}
