// `npm run simulate [-- WORLDS [SEED]]`: the long form of the worlds and of the laws over what several devices recorded and
// exchanged. Worlds of every weather, and histories for laws 1, 2, 3 and 7; 1,000 of each unless told otherwise. Ends with
// 1 at the first that something speaks against, and prints the seed and number that bring it back. How often each fault
// struck is told, so that nobody trusts a world in which nothing happened.
import fc from "fast-check";
import { faults, runWorld, weathers } from "../sync/world.ts";
import type { Fault } from "../sync/world.ts";
import { againstLaw1, againstLaw2, againstLaw3, againstLaw7, deedsApart, scripts } from "./fleet-laws.ts";

const [count = 1_000, seed = 1] = process.argv.slice(2).map(Number);
const began_ms = performance.now();
const total = Object.fromEntries(faults.map((fault) => [fault, 0])) as Record<Fault, number>;

function fail(what: string): never {
  process.stderr.write(`${what}\n`);
  process.exit(1);
}

for (let number = 0; number < count; number += 1) {
  for (const [weather, allowed] of Object.entries(weathers)) {
    const { world, against } = await runWorld({ seed: seed + number, allowed, devices: 3 + (number % 3) });
    if (against.length > 0) fail(`world ${seed + number}, ${weather}: ${against.join("; ")}`);
    for (const fault of faults) total[fault] += world.counts[fault];
  }
}
process.stdout.write(
  `${count} worlds of each of ${Object.keys(weathers).length} weathers: nothing lost, all the same\n`,
);
process.stdout.write(`  ${faults.map((fault) => `${fault} ${total[fault]}`).join(", ")}\n`);

const of = fc.integer({ min: 1, max: 2 ** 30 });
const allowed = weathers.crashes.filter((fault) => fault !== "unreadable");
const restores = weathers.restores.filter((fault) => fault !== "unreadable");

function nothing(against: readonly string[]): void {
  if (against.length > 0) throw new Error(against.join("; "));
}

async function hold<Told>(law: string, property: fc.IAsyncPropertyWithHooks<Told>): Promise<void> {
  const { failed, counterexample, errorInstance } = await fc.check(property, { numRuns: count, seed });
  if (failed) fail(`${law}, seed ${seed}: ${String(errorInstance)}\n${JSON.stringify(counterexample)}`);
  process.stdout.write(`${law}: nothing speaks against it in ${count} histories\n`);
}

await hold(
  "law 1",
  fc.asyncProperty(scripts(12, true), of, async (lines, world) =>
    nothing(await againstLaw1(lines, { seed: world, allowed })),
  ),
);
await hold(
  "law 2",
  fc.asyncProperty(scripts(12, true), fc.nat(99), fc.nat(99), of, async (lines, at, choice, world) =>
    nothing(await againstLaw2(lines, at, choice, { seed: world, allowed })),
  ),
);
await hold(
  "law 3",
  fc.asyncProperty(deedsApart(), of, async ([before, one, other], world) =>
    nothing(await againstLaw3(before, one, other, { seed: world, allowed })),
  ),
);
await hold(
  "law 7",
  fc.asyncProperty(scripts(60, false), of, async (lines, world) =>
    nothing(await againstLaw7(lines, { seed: world, allowed: restores })),
  ),
);
process.stdout.write(`seed ${seed}, ${((performance.now() - began_ms) / 1000).toFixed(0)} s\n`);
