// Watches the standings of the craft that this person has: what falls stays on the screen until somebody has seen it.
//
// A fall that the clock makes is always told. One that comes with an entry is told unless it was written in this turn:
// whoever has just raised a finding knows what it did.
import { fallsBetween } from "../../core/standing/falls.ts";
import type { Fall } from "../../core/standing/falls.ts";
import type { CraftStanding } from "../../core/standing/assess.ts";

export type CraftFall = Fall & { readonly ledger: string; readonly craft: string };

export type Watched = {
  readonly ledger: string;
  readonly name: string;
  readonly standing: CraftStanding;
};

export class FallWatch {
  #seen: ReadonlyMap<string, CraftStanding> = new Map();
  #falls: readonly CraftFall[] = [];

  /** What fell and has not been acknowledged; the same list while nothing changes. */
  get falls(): readonly CraftFall[] {
    return this.#falls;
  }

  /** Looks at the craft as they stand now. `written`: what changed was written here just now. */
  look(craft: readonly Watched[], written: boolean): void {
    const fresh = craft.flatMap(({ ledger, name, standing }) => {
      const before = this.#seen.get(ledger);
      if (before === undefined) return [];
      return fallsBetween(before, standing)
        .filter(({ byLine }) => byLine || !written)
        .map((fall): CraftFall => ({ ...fall, ledger, craft: name }));
    });
    this.#seen = new Map(craft.map(({ ledger, standing }) => [ledger, standing]));
    if (fresh.length > 0) this.#falls = fresh.reduce(withFall, this.#falls);
  }

  acknowledge(): void {
    this.#falls = [];
  }

  /** Somebody else has the device: what they have not seen fall did not fall before them. */
  forget(): void {
    this.#seen = new Map();
    this.#falls = [];
  }
}

/** One fall per craft and kind of flying: from where it stood first to where it is now. */
function withFall(falls: readonly CraftFall[], fall: CraftFall): readonly CraftFall[] {
  const is = (other: CraftFall) => other.ledger === fall.ledger && other.operation === fall.operation;
  const earlier = falls.find(is);
  const others = falls.filter((other) => !is(other));
  return [...others, earlier === undefined ? fall : { ...fall, from: earlier.from }];
}
