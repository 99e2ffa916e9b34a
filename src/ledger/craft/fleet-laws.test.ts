// Laws 1, 2, 3 and 7 over histories of several devices that exchange for real, over lost answers and crashes; and assessments
// that are broken on purpose, each caught by the law that is named for it. The long form: `npm run simulate`.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  againstLaw1,
  againstLaw2,
  againstLaw3,
  againstLaw7,
  deedsApart,
  brokenAssessments,
  scripts,
} from "../../../sim/ledger/fleet-laws.ts";
import type { FleetWorld } from "../../../sim/ledger/fleet-laws.ts";
import type { Broken } from "../../../sim/ledger/fleet.ts";
import { weathers } from "../../../sim/sync/world.ts";

const seed = fc.integer({ min: 1, max: 2 ** 30 });
const crashes = weathers.crashes.filter((fault) => fault !== "unreadable");
const restores = weathers.restores.filter((fault) => fault !== "unreadable");
const runs = 40;

/** Each law as a property: what speaks against it in one generated history. */
const laws = {
  1: (broken?: Broken) =>
    fc.asyncProperty(scripts(6, true), seed, async (lines, of) => {
      nothing(await againstLaw1(lines, worldOf(of, broken)));
    }),
  2: (broken?: Broken) =>
    fc.asyncProperty(scripts(6, true), fc.nat(99), fc.nat(99), seed, async (lines, at, choice, of) => {
      nothing(await againstLaw2(lines, at, choice, worldOf(of, broken)));
    }),
  3: (broken?: Broken) =>
    fc.asyncProperty(deedsApart(), seed, async ([before, one, other], of) => {
      nothing(await againstLaw3(before, one, other, worldOf(of, broken)));
    }),
} as const;

function nothing(against: readonly string[]): void {
  if (against.length > 0) throw new Error(`it speaks against it: ${against.join("; ")}`);
}

function worldOf(of: number, broken?: Broken): FleetWorld {
  return { seed: of, allowed: crashes, ...(broken === undefined ? {} : { broken }) };
}

describe("over histories that several devices recorded and exchanged", () => {
  test("law 1: with something set aside, or a finding that nobody has judged, no operation is ready", async () => {
    await fc.assert(laws[1](), { numRuns: runs });
  }, 60_000);

  test("law 2: one thing said worse, or one piece of bad news more, improves no standing", async () => {
    await fc.assert(laws[2](), { numRuns: runs });
  }, 60_000);

  test("law 3: what two devices recorded apart is no better than had either known of the other's", async () => {
    await fc.assert(laws[3](), { numRuns: runs });
  }, 60_000);

  test("law 7: all devices and the server fold to one hash, whatever the exchange suffered", async () => {
    await fc.assert(
      fc.asyncProperty(scripts(25, false), seed, async (lines, of) => {
        expect(await againstLaw7(lines, { seed: of, allowed: restores })).toEqual([]);
      }),
      { numRuns: runs },
    );
  }, 60_000);
});

describe("an assessment that", () => {
  const cases = Object.entries(brokenAssessments).map(([name, { law, broken }]) => ({ name, law, broken }));
  test.each(cases)(
    "$name is caught by law $law",
    async ({ law, broken }) => {
      const caught: { readonly failed: boolean; readonly errorInstance: unknown } = await fc.check(
        laws[law](broken) as fc.IAsyncPropertyWithHooks<unknown>,
        { numRuns: 300, endOnFailure: true },
      );
      expect([caught.failed, String(caught.errorInstance)]).toEqual([
        true,
        expect.stringContaining("it speaks against it"),
      ]);
    },
    150_000,
  );
});
