// Three devices and a server in worlds from seeds (sim/sync/world.ts): whatever network and disks do to them, nothing that was
// acknowledged vanishes, and once everything is healed all hold the same. And exchanges that are broken on purpose, each
// caught by what is named for it. The long form: `npm run simulate`.
import { describe, expect, test } from "vitest";
import { brokenExchanges, isCaught } from "../../sim/sync/broken-exchange.ts";
import { faults, runWorld, weathers } from "../../sim/sync/world.ts";
import type { Fault } from "../../sim/sync/world.ts";

describe("Devices and server come to hold the same", () => {
  const worlds = [
    { name: "when all is well", allowed: weathers.calm, seeds: 3 },
    { name: "over a bad network", allowed: weathers.network, seeds: 60 },
    { name: "across crashes", allowed: weathers.crashes, seeds: 60 },
    { name: "when the server is restored from backups", allowed: weathers.restores, seeds: 60 },
    { name: "when devices lose their store", allowed: weathers.wipes, seeds: 60 },
  ].flatMap(({ name, allowed, seeds }) =>
    Array.from({ length: seeds }, (_, i) => ({ name, allowed, seed: i + 1 })),
  );
  const total = Object.fromEntries(faults.map((fault) => [fault, 0])) as Record<Fault, number>;

  test.each(worlds)("$name, seed $seed", async ({ allowed, seed }) => {
    const { world, against } = await runWorld({ seed, allowed });
    expect(against).toEqual([]);
    expect(world.recorded.size).toBeGreaterThan(100);
    for (const fault of faults) total[fault] += world.counts[fault];
  });

  test("every kind of fault really struck", () => {
    for (const fault of faults) expect([fault, total[fault] > 5]).toEqual([fault, true]);
  });
});

describe("An exchange that", () => {
  test.each(Object.values(brokenExchanges))("$name is caught by: $caughtBy", async (broken) => {
    expect(await isCaught(broken)).toBe(true);
  });
});
