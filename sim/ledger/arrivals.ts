// Histories and arrivals for property tests: what happened to a ledger, and in which order, how often and in which
// batches it reached somebody.
import fc from "fast-check";
import type { Opened } from "../../src/ledger/open.ts";
import { happen } from "./world.ts";
import type { Happening } from "./world.ts";

const number = fc.nat(999);

/** Steps of a history; long ones are likelier than fast-check would make them by itself. */
export function happenings(longest: number): fc.Arbitrary<readonly Happening[]> {
  return fc.array(fc.tuple(number, number, number, number), {
    minLength: Math.floor(longest / 3),
    maxLength: longest,
    size: "max",
  });
}

/** A seed of the order in which things arrive. */
export const arrivalSeed = fc.integer({ min: 1, max: 2 ** 31 - 1 });

/** Marsaglia's xorshift with 32 bits: enough to shuffle a test's list. */
function randomFrom(seed: number): (below: number) => number {
  let x = seed | 0 || 1;
  return (below) => {
    x ^= x << 13;
    x ^= x >>> 17;
    x ^= x << 5;
    return (x >>> 0) % below;
  };
}

/** The entries in another order, some of them twice, in batches of all sizes. */
export function arrivals(entries: readonly Opened[], seed: number): readonly (readonly Opened[])[] {
  const random = randomFrom(seed);
  const all = [...entries, ...entries.filter(() => random(4) === 0)];
  // One in two arrives nearly as it was written, which is what happens most.
  const reach = random(2) === 0 ? 1 + random(2) : all.length;
  for (let at = all.length - 1; at > 0; at -= 1) {
    const other = at - random(Math.min(at + 1, reach));
    [all[at], all[other]] = [all[other]!, all[at]!];
  }
  const batches: Opened[][] = [];
  while (all.length > 0) batches.push(all.splice(0, 1 + random(random(3) === 0 ? 20 : 2)));
  return batches;
}

/** Whatever part of the entries a device may hold. */
export function someOf(entries: readonly Opened[], seed: number): readonly Opened[] {
  const random = randomFrom(seed);
  const share = 1 + random(9);
  return entries.filter(() => random(10) < share);
}

/** Tells the history of some steps and holds a property of it and of a seed. */
export function overHistories(
  longest: number,
  holds: (entries: readonly Opened[], seed: number) => void | Promise<void>,
): fc.IAsyncPropertyWithHooks<[readonly Happening[], number]> {
  return fc.asyncProperty(happenings(longest), arrivalSeed, async (steps, seed) =>
    holds(await happen(steps), seed),
  );
}
