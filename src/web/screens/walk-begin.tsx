// Before a walk: which one, and what it is like outside; what nobody knows stays in the walk.
import { useMemo, useState } from "react";
import type { Conditions, CraftState, WalkKind } from "../../core/facts/craft.ts";
import { walkKinds } from "../../core/facts/craft.ts";
import { conditions as allConditions } from "../../core/sheet/applicability-schema.ts";
import { termsOf } from "../../core/sheet/applicability.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { planWalk } from "../../core/walk/plan.ts";
import { secondsLeft } from "../../core/walk/pace.ts";
import type { CraftView } from "../device/model.ts";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Button } from "../parts/button.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { Empty } from "../parts/whole-screen.tsx";
import { useWords } from "../parts/words.tsx";
import { useApp, useSnapshot } from "./app-context.tsx";
import { ConditionRows } from "./condition-rows.tsx";
import type { Answer } from "./condition-rows.tsx";
import { Frame } from "./frame.tsx";
import { useRoundWords } from "./use-round-words.ts";
import { WalksThatHold } from "./walk-holds.tsx";
import { PaperEntry, PaperPage } from "./walk-paper.tsx";
import { mayWalk } from "./walk-view.ts";

/** Conditions that any item of this walk asks about, in the sheet's closed order. */
function askedConditions(sheet: Sheet, kind: WalkKind): readonly (typeof allConditions)[number][] {
  const asked = new Set<string>();
  for (const { applies, walks } of sheet.items) {
    if (applies === undefined || !walks.includes(kind)) continue;
    for (const term of termsOf(applies)) if (term.kind === "condition") asked.add(term.name);
  }
  return allConditions.filter((condition) => asked.has(condition));
}

/** What was said when the last walk of this machine began, of whatever kind. */
function saidBefore({ walks }: CraftState): Conditions {
  const latest = Object.values(walks).toSorted((a, b) => b.begun.at_ms - a.begun.at_ms)[0];
  return latest?.begun.conditions ?? {};
}

export function WalkBegin({ craft }: { readonly craft: CraftView }) {
  const { walk, screens, app } = useWords();
  const { device, goTo } = useApp();
  const { me } = useSnapshot();
  const { sheet, state, standing } = craft;
  const fullDue = standing.reasons.some(
    ({ remedy, from_ms }) => remedy.code === "walk.doFull" && from_ms === null,
  );
  const round = useRoundWords();
  const [paper, setPaper] = useState<"print" | "type" | null>(null);
  const [chosen, setChosen] = useState<WalkKind | null>(null);
  // What is due may only be known once the record is whole; a choice of the person stays.
  const kind = chosen ?? (fullDue ? "full" : "launch");
  const [answers, setAnswers] = useState<Readonly<Record<string, Answer>>>({});
  const said: Conditions = useMemo(
    () =>
      sheet === null
        ? {}
        : Object.fromEntries(
            askedConditions(sheet, kind).map((condition) => {
              const answer = answers[condition] ?? "notKnown";
              return [condition, answer === "notKnown" ? null : answer === "yes"];
            }),
          ),
    [sheet, kind, answers],
  );
  const plan = useMemo(
    () => (sheet === null ? null : planWalk(sheet, state, kind, said)),
    [sheet, state, kind, said],
  );
  if (sheet === null || plan === null) {
    return (
      <Frame craft={craft} name={craft.name}>
        <Empty title={app.stillLoading}>{screens.walk.nobodyWalks}</Empty>
      </Frame>
    );
  }
  const onPaper = { craft, kind, plan, said, onBack: () => setPaper(null) };
  if (paper === "print") return <PaperPage {...onPaper} />;
  if (paper === "type") return <PaperEntry {...onPaper} />;
  const [first] = plan.stops;
  const added = plan.rows.filter(({ because }) => because.every((why) => why.kind !== "sheet")).length;
  const begin = async () => {
    const begun = await device.beginWalk(craft.ledger, kind, said);
    if (first !== undefined) await device.arriveAt(craft.ledger, begun, first.stop.id);
  };
  const about_min = Math.ceil(secondsLeft(sheet, state, kind, plan.rows) / 60);
  return (
    <Frame
      craft={craft}
      name={craft.name}
      foot={
        <TwoButtons
          left={{
            children: app.doing.cancel,
            onPress: () => goTo({ screen: "standing", craft: craft.ledger.replace("craft:", "") }),
          }}
          right={{
            children: walk.doing.begin,
            note: walk.kind[kind],
            onPress: () => void begin(),
            ...(mayWalk(me) ? {} : { why: round.notYours }),
          }}
        />
      }
    >
      <div className="stack-wide">
        <div>
          <h1 className="head">{walk.kind[kind]}</h1>
          <p className="quiet">{screens.walk.longPlan(plan.rows.length, plan.stops.length, about_min)}</p>
          {kind === "launch" && <p>{added === 0 ? round.addedNone : round.added(added)}</p>}
        </div>
        <ChoiceRow
          name={screens.walk.chooseKind}
          choices={walkKinds.map((value) => ({ value, label: walk.kind[value] }))}
          value={kind}
          onChoose={setChosen}
        />
        <section className="stack">
          <h2 className="title">{screens.walk.conditions}</h2>
          <p className="quiet">{screens.walk.conditionsNote}</p>
          <ConditionRows
            asked={askedConditions(sheet, kind)}
            answers={answers}
            before={saidBefore(state)}
            onAnswers={setAnswers}
          />
        </section>
        <WalksThatHold craft={craft} />
        <div className="walk-paper">
          <Button onPress={() => setPaper("print")} note={round.paper.printNote}>
            {round.paper.print}
          </Button>
          <Button
            onPress={() => setPaper("type")}
            {...(mayWalk(me) ? { note: round.paper.typeNote } : { why: round.notYours })}
          >
            {round.paper.type}
          </Button>
        </div>
      </div>
    </Frame>
  );
}
