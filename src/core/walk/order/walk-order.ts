// The order of a walk's stops measured, and a shorter lawful one proposed, for the author of a sheet. What is walked stays
// what the sheet publishes.
//
// The model: metres are walked round the outside of the aircraft (way-round.ts) at the sheet's speed and clearance. A stop
// by step or ladder, or on top, costs the sheet's seconds for going up and down again; between two stops with the same
// access within two metres of each other one stays up and goes straight across. Each coming up by ladder or to the top is a
// ladder move. The actions take the sheet's seconds in any order. Two metres: ours, for a ladder that serves both.
// Lawful: the first and the last stop stay what they are, what an item must come after stays before it, and what is
// opened at one stop and closed at another keeps that order. The order is found as in ../sequence, with its proof.
// Refuses (Refusal, path `order.WALK`): more stops than can be put in order.
import type { WalkKind } from "../../facts/craft.ts";
import { refuse } from "../../quantity/refusal.ts";
import { obstacles } from "../../sheet/obstacles.ts";
import type { Sheet } from "../../sheet/schema.ts";
import type { Item, Stop } from "../../sheet/walk-blocks.ts";
import { mostPlaces, solveSequence } from "../sequence/solve-sequence.ts";
import { WayRound } from "./way-round.ts";

/** One ladder serves what lies so near. */
const sharedReach_m = 2;

export type OrderMeasure = {
  readonly order: readonly string[];
  readonly way_m: number;
  readonly ladderMoves: number;
  /** Walking and climbing, without the actions, which are the same in any order. */
  readonly moving_s: number;
  readonly actions_s: number;
};

type Leg = { readonly way_m: number; readonly up: boolean; readonly seconds: number };

export type Proposal = {
  readonly published: OrderMeasure;
  readonly proposed: OrderMeasure;
  /** No lawful order moves for fewer seconds. */
  readonly bound_s: number;
  readonly proven: boolean;
};

/** Every leg between the walk's stops, and the items walked there. */
class WalkLegs {
  readonly sheet: Sheet;
  readonly stops: readonly Stop[];
  readonly items: readonly Item[];
  readonly legs: readonly (readonly Leg[])[];
  readonly #places: ReadonlyMap<string, number>;

  constructor(sheet: Sheet, kind: WalkKind) {
    this.sheet = sheet;
    this.items = sheet.items.filter(({ walks }) => walks.includes(kind));
    this.stops = sheet.order[kind].map((id) => sheet.stops.find((stop) => stop.id === id)!);
    this.#places = new Map(this.stops.map(({ id }, place) => [id, place]));
    const way = new WayRound(obstacles(sheet.outline), sheet.sequence.clearance_m);
    const points = this.stops.map(({ x_m, y_m }) => [x_m, y_m] as const);
    this.legs = this.stops.map((from, place) =>
      way
        .distances(points[place]!, points)
        .map((round_m, other) => this.#leg(from, this.stops[other]!, round_m)),
    );
  }

  #leg(from: Stop, to: Stop, round_m: number): Leg {
    const { walkingSpeed_ms, step_s, ladder_s, top_s } = this.sheet.sequence;
    const straight_m = Math.hypot(to.x_m - from.x_m, to.y_m - from.y_m);
    const stays = to.access !== "floor" && to.access === from.access && straight_m <= sharedReach_m;
    const way_m = stays ? straight_m : round_m;
    const climb_s = stays ? 0 : { floor: 0, step: step_s, ladder: ladder_s, top: top_s }[to.access];
    return {
      way_m,
      up: !stays && (to.access === "ladder" || to.access === "top"),
      seconds: way_m / walkingSpeed_ms + climb_s,
    };
  }

  place(stop: string): number {
    return this.#places.get(stop) ?? -1;
  }

  measure(places: readonly number[]): OrderMeasure {
    const { step_s, ladder_s, top_s, action_s } = this.sheet.sequence;
    const legs = places.slice(1).map((to, at) => this.legs[places[at]!]![to]!);
    const first = this.stops[places[0]!];
    const firstUp_s =
      first === undefined ? 0 : { floor: 0, step: step_s, ladder: ladder_s, top: top_s }[first.access];
    const firstIsUp = first?.access === "ladder" || first?.access === "top";
    return {
      order: places.map((place) => this.stops[place]!.id),
      way_m: legs.reduce((sum, leg) => sum + leg.way_m, 0),
      ladderMoves: legs.filter(({ up }) => up).length + Number(firstIsUp),
      moving_s: legs.reduce((sum, leg) => sum + leg.seconds, firstUp_s),
      actions_s: this.items.reduce((sum, { action }) => sum + action_s[action], 0),
    };
  }

  /** Pairs of places: the first stop comes before the second. */
  precedence(): readonly [number, number][] {
    const stopOf = new Map(this.items.map(({ id, stop }) => [id, this.place(stop)]));
    const pairs = new Map<string, [number, number]>();
    const add = (first: number | undefined, second: number): void => {
      if (first !== undefined && first !== second) pairs.set(`${first} ${second}`, [first, second]);
    };
    for (const item of this.items) {
      for (const earlier of item.after ?? []) add(stopOf.get(earlier), this.place(item.stop));
      for (const closure of item.opens ?? []) {
        // What is shut again where it was opened binds no other stop.
        const closers = this.items.filter(({ closes }) => closes?.includes(closure) === true);
        if (closers.some(({ stop }) => stop === item.stop)) continue;
        for (const { stop } of closers) add(this.place(item.stop), this.place(stop));
      }
    }
    return [...pairs.values()];
  }
}

/** The published order of a walk, measured. */
export function measureOrder(sheet: Sheet, kind: WalkKind): OrderMeasure {
  const legs = new WalkLegs(sheet, kind);
  return legs.measure(legs.stops.map((_, place) => place));
}

/** The published order of a walk and the best lawful one that was found. */
export function proposeOrder(sheet: Sheet, kind: WalkKind): Proposal {
  const count = sheet.order[kind].length;
  if (count > mostPlaces) refuse(`order.${kind}`, "outsideDomain", `${count} stops`, `at most ${mostPlaces}`);
  const legs = new WalkLegs(sheet, kind);
  const published = legs.measure(legs.stops.map((_, place) => place));
  const { order, cost, bound, proven } = solveSequence({
    cost: legs.legs.map((row) => row.map(({ seconds }) => seconds)),
    before: legs.precedence(),
    start: 0,
    end: count > 1 ? count - 1 : null,
    closed: false,
  });
  const proposed = legs.measure(order);
  const first_s = proposed.moving_s - cost;
  // The published order may already be the best; a proposal that is no better would only be another.
  const isBetter = proposed.moving_s < published.moving_s - 1e-9 * Math.max(1, published.moving_s);
  return { published, proposed: isBetter ? proposed : published, bound_s: bound + first_s, proven };
}
