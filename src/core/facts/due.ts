// What the record says of what runs out: counters, what was done last, components by serial number, dated obligations.
// Folded facts as in craft.ts; nothing here is judged.
import type { OperationId } from "./reason.ts";

export const counterNames = ["flightHours_h", "landings", "starts", "hoistCycles"] as const;
export type CounterName = (typeof counterNames)[number];
export type Counters = Readonly<Record<CounterName, number>>;

type Said = { readonly entry: string; readonly by: string; readonly at_ms: number };

/** Counters that a person signed for, at an instant; flights that ended later count on top. `why` for a step to a new base. */
export type CounterBase = Said & { readonly counters: Counters; readonly why: string };

/** A task of the programme done: the craft's counters then, and the calendar day. */
export type TaskDone = Said & {
  readonly task: string;
  readonly counters: Counters;
  /** YYYY-MM-DD. */
  readonly on: string;
};

/** One serial number at one position. Counters of its own: since new, and since the last overhaul. */
export type ComponentFitted = Said & {
  readonly component: string;
  /** Index into the sheet's positions. */
  readonly position: number;
  readonly serial: string;
  readonly sinceNew: Counters;
  readonly sinceOverhaul: Counters;
  /** The craft's counters when it was fitted. */
  readonly craftCounters: Counters;
  readonly newOn: string;
  readonly overhauledOn: string | null;
  /** The date that the part itself bears; the last day on which it holds. */
  readonly expiresOn: string | null;
};

export type ComponentRemoved = Said & { readonly component: string; readonly position: number };

/** `mapData`: an edition of moving map or obstacles, which advises once it is over (SPA.HEMS.110(b)); all others forbid. */
export const obligationKinds = ["directive", "review", "weighing", "equipment", "mapData", "other"] as const;

/** Something outside the programme that runs out: by the last day on which it holds, by counters, or both. */
export type Obligation = Said & {
  readonly obligation: string;
  readonly kind: (typeof obligationKinds)[number];
  readonly words: string;
  readonly lastDay: string | null;
  readonly dueAt: Partial<Counters>;
  readonly takesAway: "all" | readonly OperationId[];
  readonly settled: boolean;
};

export type DueFacts = {
  readonly bases: readonly CounterBase[];
  /** By task of the programme. */
  readonly done: Readonly<Record<string, readonly TaskDone[]>>;
  /** By `component#position`: what stands there; more than one where people recorded apart. */
  readonly components: Readonly<Record<string, readonly (ComponentFitted | ComponentRemoved)[]>>;
  readonly obligations: Readonly<Record<string, readonly Obligation[]>>;
};

export const nothingDue: DueFacts = { bases: [], done: {}, components: {}, obligations: {} };

export function positionKey(component: string, position: number): string {
  return `${component}#${position}`;
}
