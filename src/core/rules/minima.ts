// Whether a ceiling and a visibility meet the minima of a rule set, and by which row. In: what the table asks for; out:
// what is short, the row, its edition and citation.
//
// The EU table depends on crew, light and performance class; class 3 at night is held to its own row and the night's.
// The US table depends on terrain, area, light, and at night on night-vision imaging or terrain awareness.
// An operator may add stricter figures, which hold beside the table, or replace it by figures of its own approved
// manual, with the citation. Refused (Refusal with the key's name): a figure that the table needs and that is missing.
import { refuse } from "../quantity/refusal.ts";
import type { Citation, RuleSetId } from "./cited.ts";
import {
  euAirspaceFrom_ft,
  euClass3Citation,
  euClass3Steps,
  euDaySteps,
  euHemsCitation,
  euNightSteps,
} from "./eu-minima.ts";
import { judgeSteps } from "./minima-table.ts";
import type { MinimaRow, MinimaStep, Phase, Short, StepJudgement } from "./minima-table.ts";
import { usAmbulanceCitation, usAmbulanceStep } from "./us-minima.ts";
import { atLeast } from "../quantity/compare.ts";

export type MinimaQuestion = {
  readonly ruleSet: RuleSetId;
  readonly phase: Phase;
  readonly light: "day" | "night";
  readonly ceiling_ft: number;
  readonly visibility_m: number;
  readonly pilots?: number | undefined;
  readonly performanceClass?: number | undefined;
  readonly airspaceVisibility_m?: number | undefined;
  readonly mountainous?: boolean | undefined;
  readonly local?: boolean | undefined;
  readonly nvis?: boolean | undefined;
  readonly htaws?: boolean | undefined;
};

type Steps = readonly [MinimaStep, ...MinimaStep[]];

/** `stricter` holds beside the table; `instead` replaces it and needs the operator's own approved source. */
export type OperatorMinima =
  | { readonly kind: "stricter"; readonly step: MinimaStep; readonly cite: string; readonly edition: string }
  | { readonly kind: "instead"; readonly steps: Steps; readonly cite: string; readonly edition: string };

export type MinimaAnswer = {
  readonly ok: boolean;
  readonly short: readonly Short[];
  readonly row: MinimaRow;
  readonly citation: Citation;
};

export type MinimaTable = { readonly steps: Steps; readonly citation: Citation };

function need<Value>(value: Value | undefined, key: string, wanted: string): Value {
  if (value === undefined) refuse(key, "missing", "nothing", wanted);
  return value;
}

function euTables(question: MinimaQuestion): readonly MinimaTable[] {
  const twoPilots = need(question.pilots, "pilots", "how many pilots") >= 2;
  const performanceClass = need(question.performanceClass, "performanceClass", "1, 2 or 3");
  const isClass3 = performanceClass === 3;
  const class3 = { steps: euClass3Steps, citation: euClass3Citation };
  if (question.light === "night") {
    const night = { steps: euNightSteps(twoPilots), citation: euHemsCitation };
    return isClass3 ? [night, class3] : [night];
  }
  if (isClass3) return [class3];
  const airspace_m = atLeast(question.ceiling_ft, euAirspaceFrom_ft)
    ? need(
        question.airspaceVisibility_m,
        "airspaceVisibility_m",
        "the visibility minimum of the airspace, which holds from 500 ft up",
      )
    : (question.airspaceVisibility_m ?? 0);
  return [{ steps: euDaySteps(twoPilots, airspace_m), citation: euHemsCitation }];
}

function usTables(question: MinimaQuestion): readonly MinimaTable[] {
  const mountainous = need(question.mountainous, "mountainous", "true or false");
  const local = need(question.local, "local", "true or false");
  if (question.light === "day")
    return [{ steps: usAmbulanceStep(mountainous, local, "day"), citation: usAmbulanceCitation }];
  const isAided = question.nvis === true || question.htaws === true;
  if (!isAided) {
    need(question.nvis, "nvis", "true or false, by night");
    need(question.htaws, "htaws", "true or false, by night");
  }
  const light = isAided ? "nightAided" : "nightUnaided";
  return [{ steps: usAmbulanceStep(mountainous, local, light), citation: usAmbulanceCitation }];
}

/** The tables that hold for a question, each of which must be met. */
export function tablesOf(
  question: MinimaQuestion,
  operator: readonly OperatorMinima[],
): readonly MinimaTable[] {
  const citationOf = ({ cite, edition }: OperatorMinima): Citation => ({ cite, edition, status: "operator" });
  const instead = operator.flatMap((own) =>
    own.kind === "instead" ? [{ steps: own.steps, citation: citationOf(own) }] : [],
  );
  const stricter = operator.flatMap((own) =>
    own.kind === "stricter" ? [{ steps: [own.step] as const, citation: citationOf(own) }] : [],
  );
  const ruled = question.ruleSet === "eu" ? euTables : usTables;
  return [...(instead.length > 0 ? instead : ruled(question)), ...stricter];
}

/** Judges every table that holds; what is short in any is short, and the row told is the one that binds. */
export function judgeMinima(
  question: MinimaQuestion,
  operator: readonly OperatorMinima[] = [],
): MinimaAnswer {
  const judged = tablesOf(question, operator).map(({ steps, citation }) => ({
    ...judgeSteps(steps, question),
    citation,
  }));
  const short = (["ceiling", "visibility"] as const).filter((what) =>
    judged.some((one) => one.short.includes(what)),
  );
  const [first, ...others] = judged;
  if (first === undefined) throw new RangeError("no table of minima holds");
  const binding = others.reduce((worst, one) => (isStricter(one, worst) ? one : worst), first);
  return { ok: short.length === 0, short, row: binding.row, citation: binding.citation };
}

function isStricter(a: StepJudgement, b: StepJudgement): boolean {
  if (a.short.length !== b.short.length) return a.short.length > b.short.length;
  if (a.row.visibility_m !== b.row.visibility_m) return a.row.visibility_m > b.row.visibility_m;
  return a.row.ceilingFrom_ft > b.row.ceilingFrom_ft;
}
