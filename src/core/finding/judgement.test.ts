import { describe, expect, test } from "vitest";
import type { FindingFacts, Outcome } from "../facts/craft.ts";
import { countingJudgement, isClosed, mayClose, mayJudge } from "./judgement.ts";

function finding(judged: readonly Outcome[], closedBy: readonly string[] = []): FindingFacts {
  return {
    finding: "finding-0001",
    raised: {
      entry: "e0",
      by: "p1",
      at_ms: 0,
      kind: "leak",
      stop: "leftEngine",
      item: null,
      walk: null,
      measure: null,
      words: "wet",
    },
    judgements: judged.map((outcome, index) => ({
      entry: `e${index + 1}`,
      by: "p1",
      at_ms: index + 1,
      outcome,
      role: "pilot",
      words: "",
      deferral: null,
    })),
    deferralSteps: [],
    seenAgain: [],
    closed: closedBy.map((role, index) => ({ entry: `c${index}`, by: "p2", at_ms: 99, role, words: "done" })),
  };
}

describe("judging a finding", () => {
  test("lets the worst of the judgements made apart count, in whatever order they came", () => {
    expect(countingJudgement(finding(["ground", "accept"]))?.outcome).toBe("ground");
    expect(countingJudgement(finding(["accept", "ground"]))?.outcome).toBe("ground");
    expect(countingJudgement(finding([]))).toBeNull();
  });

  test("lets a pilot be stricter than what stands, never looser", () => {
    expect(mayJudge(finding(["watch"]), "pilot", "ground")).toBe(true);
    expect(mayJudge(finding(["watch"]), "pilot", "accept")).toBe(false);
    expect(mayJudge(finding(["ground"]), "pilot", "defer")).toBe(false);
    expect(mayJudge(finding(["ground"]), "engineer", "accept")).toBe(true);
  });

  test("lets a crew member ground at once and otherwise leave the first judgement to the pilot", () => {
    expect(mayJudge(finding([]), "crewMember", "ground")).toBe(true);
    expect(mayJudge(finding([]), "crewMember", "accept")).toBe(false);
  });

  test("closes what grounds only by an engineer's word, and what nobody judged likewise", () => {
    expect(mayClose(finding(["ground"]), "pilot")).toBe(false);
    expect(isClosed(finding(["ground"], ["pilot"]))).toBe(false);
    expect(isClosed(finding(["ground"], ["pilot", "engineer"]))).toBe(true);
    expect(isClosed(finding([], ["pilot"]))).toBe(false);
    expect(isClosed(finding(["watch"], ["pilot"]))).toBe(true);
    expect(isClosed(finding(["watch"], ["somebodyElse"]))).toBe(false);
  });
});
