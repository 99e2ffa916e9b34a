// What the record of a craft keeps of calls and fuel: answers as they were given with their inputs, fuel checks in flight,
// and fuel filled in. Plain data, nothing judged.
import type { FuelAmount, SampleSeen } from "./base-tank.ts";

type Said = { readonly entry: string; readonly by: string; readonly at_ms: number };

type KeptPlace = {
  readonly name: string;
  readonly lat_deg: number;
  readonly lon_deg: number;
  readonly elevation_ft: number | null;
  readonly site: string | null;
};

/** What was told of each margin and stop, in short; instants as text. */
export type KeptAnswer = {
  readonly margins: readonly {
    readonly kind: string;
    readonly stop: number | null;
    readonly leg: number | null;
    readonly met: boolean | null;
    readonly room: number | null;
    readonly unit: string;
    readonly what: string | null;
  }[];
  readonly stops: readonly {
    readonly name: string;
    readonly arrive: string | null;
    readonly leave: string | null;
    readonly fuel_kg: number | null;
    readonly mass_kg: number | null;
  }[];
};

export type CallKept = Said & {
  readonly call: string;
  readonly operation: string;
  readonly typed: string;
  readonly scene: KeptPlace;
  readonly hospital: KeptPlace | null;
  readonly depart_ms: number;
  /** The whole question as the core was asked it. */
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly verdict: "ready" | "withinLimits" | "notKnown" | "notReady";
  readonly binding: { readonly kind: string; readonly room: number | null; readonly unit: string } | null;
  readonly fuelRequired_kg: number | null;
  readonly answer?: KeptAnswer;
  readonly decision: "accepted" | "declined" | "asked";
  readonly words: string;
};

export type FuelChecked = Said & {
  readonly call: string | null;
  readonly planned_kg: number | null;
  readonly actual_kg: number;
  readonly typed: string;
};

export type FuelFilled = Said &
  FuelAmount & {
    readonly before_kg: number;
    readonly after_kg: number;
    readonly grade: string;
    /** A tank of one of the operator's bases; null for fuel from elsewhere. */
    readonly baseTank: string | null;
    readonly sample: SampleSeen | null;
  };

/** A sample drawn from the craft's own tanks, beside any filling. */
export type FuelSampled = Said & { readonly sample: SampleSeen; readonly words: string };
