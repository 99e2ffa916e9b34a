// What the record of a craft keeps of calls and fuel: answers as they were given with their inputs, fuel checks in flight,
// and fuel filled in. Plain data, nothing judged.
type Said = { readonly entry: string; readonly by: string; readonly at_ms: number };

type KeptPlace = {
  readonly name: string;
  readonly lat_deg: number;
  readonly lon_deg: number;
  readonly elevation_ft: number | null;
  readonly site: string | null;
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
  readonly decision: "accepted" | "declined" | "asked";
  readonly words: string;
};

export type FuelChecked = Said & {
  readonly call: string | null;
  readonly planned_kg: number | null;
  readonly actual_kg: number;
  readonly typed: string;
};

export type FuelFilled = Said & {
  readonly before_kg: number;
  readonly amount: number;
  readonly unit: "kg" | "L" | "lb" | "usgal";
  readonly typed: string;
  /** At 15 °C; the fuel's own temperature where it was measured. */
  readonly density_kgL: number;
  readonly fuel_C: number | null;
  readonly after_kg: number;
  readonly grade: string;
  readonly baseTank: string | null;
  readonly sample: "clear" | "water" | "particles" | null;
};
