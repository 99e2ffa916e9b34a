// The study's tables as Markdown.
import type { WatchPlan } from "../../src/core/level/watch.ts";
import type { Outcome, Power } from "./measure.ts";
import { methods } from "./methods.ts";

type Study = {
  readonly plan: WatchPlan;
  readonly histories: number;
  readonly powers: readonly Power[];
  readonly demo: readonly Outcome[];
  readonly unseen: readonly Outcome[];
};

const hours = (value: number | null): string => (value === null ? "missed" : value.toFixed(1));
const row = (cells: readonly string[]): string => `| ${cells.join(" | ")} |`;
const head = (cells: readonly string[]): string => `${row(cells)}\n${row(cells.map(() => "---"))}`;

export function tableText({ plan, histories, powers, demo, unseen }: Study): string {
  const leaks = powers[0]!.delays.map(({ perHour }) => perHour);
  const names = methods.map(({ name }) => name);
  return [
    "# How well a change of consumption is noticed",
    "",
    "Written by `npm run study:levels`; invented histories throughout (sim/levels). One engine's oil over 500 flight hours,",
    "0.03 L/h with a quarter of that as spread from flight to flight, read to 0.1 L with a scatter of 0.07 L, one reading in",
    "a hundred wrong by 0.4 L, filled from cans of 0.25 L. The plan is the one in the demo's sheet, fixed before any history",
    `was made: baseline ${plan.baseline_h} h, scatter ${plan.scatter} L, smoothing ${plan.smoothing}, allowance ${plan.slack_sd} σ, decision ${plan.decision_sd} σ.`,
    "",
    `## False alarms and delay, ${histories} histories each`,
    "",
    "Delay in flight hours from the beginning of the leak: median / nine in ten; in brackets how many of the leaks were missed.",
    "",
    head(["method", "false alarms per 1,000 h", ...leaks.map((leak) => `leak ${leak} L/h`)]),
    ...powers.map(({ method, falsePer1000, delays }) =>
      row([
        method,
        falsePer1000.toFixed(2),
        ...delays.map(
          ({ median_h, ninth_h, missed, of }) =>
            `${hours(median_h)} / ${hours(ninth_h)} (${missed} of ${of})`,
        ),
      ]),
    ),
    "",
    "## The demo's engines",
    "",
    "The leak of the story, and the five engines without one. Hours until noticed; in brackets false alarms before it, or",
    "in the whole history where nothing leaks.",
    "",
    head(["engine", "leak L/h", ...names]),
    ...demo.map((outcome) => outcomeRow(outcome)),
    "",
    "## Twenty unseen seeds, leak 0.05 L/h",
    "",
    "Hours until noticed; in brackets false alarms before it.",
    "",
    head(["history", "leak L/h", ...names]),
    ...unseen.map((outcome) => outcomeRow(outcome)),
    "",
  ].join("\n");
}

function outcomeRow({ what, leakPerHour, delays_h, falseAlarms }: Outcome): string {
  return row([
    what,
    String(leakPerHour),
    ...falseAlarms.map((count, index) => {
      const delay = delays_h[index];
      return delay === undefined ? `– (${count})` : `${hours(delay)} (${count})`;
    }),
  ]);
}
