import { describe, expect, test } from "vitest";
import { type Phase, runPhases } from "./schedule.ts";

/** Phases that last some turns of the event loop, with a diary of what happened. */
function diary() {
  const lines: string[] = [];
  let places = 0;
  let most = 0;
  const phase = (
    name: string,
    needs: 1 | 2,
    after: readonly string[] = [],
    fails = false,
  ): Phase<string> => ({
    name,
    places: needs,
    after,
    run: async () => {
      places += needs;
      most = Math.max(most, places);
      lines.push(`+${name}`);
      await new Promise((resolve) => setTimeout(resolve, 2));
      places -= needs;
      if (fails) throw new Error(`${name} broke`);
      return `${name} done`;
    },
  });
  const onEnd = ({ name }: Phase<string>, result: string | Error): void =>
    void lines.push(result instanceof Error ? `!${name}` : `-${name}`);
  return { lines, phase, onEnd, most: () => most };
}

describe("The schedule", () => {
  test("runs what has room side by side and never more than the places allow", async () => {
    const { lines, phase, onEnd, most } = diary();
    await runPhases([phase("a", 1), phase("b", 1), phase("c", 2), phase("d", 1)], 2, onEnd);
    expect(lines.slice(0, 2)).toEqual(["+a", "+b"]);
    expect(lines.filter((line) => line.startsWith("-")).length).toBe(4);
    expect(most()).toBe(2);
  });

  test("starts a phase only after those that it waits for, also when they failed", async () => {
    const { lines, phase, onEnd } = diary();
    await runPhases([phase("browser", 1, ["build"]), phase("build", 1, [], true)], 2, onEnd);
    expect(lines).toEqual(["+build", "!build", "+browser", "-browser"]);
  });

  test("does not wait for a phase that is not run", async () => {
    const { lines, phase, onEnd } = diary();
    await runPhases([phase("browser", 2, ["build"])], 1, onEnd);
    expect(lines).toEqual(["+browser", "-browser"]);
  });

  test("refuses phases that wait for each other", async () => {
    const { phase, onEnd } = diary();
    await expect(runPhases([phase("a", 1, ["b"]), phase("b", 1, ["a"])], 2, onEnd)).rejects.toThrow("a, b");
  });
});
