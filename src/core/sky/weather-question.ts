// What is asked of the weather at a place: needs, limits, and everything recorded that may answer. Assembled by whoever
// asks, from the sheet, the rule set and the operator's settings; no figure here is chosen by the program.

import type { OperationId, Source } from "../facts/reason.ts";
import type { OwnObservation } from "./own-observation.ts";
import type { PlanningRule } from "./planning-rule.ts";
import type { HeldReport, Station } from "./usable-reports.ts";
import type { SectorLimit } from "./wind-limits.ts";

/** What an operation needs at the place; `from_ms` and `until_ms` where it differs by day and night. */
export type WeatherNeed = {
  readonly operation: OperationId;
  readonly ceiling_ft: number | null;
  readonly visibility_m: number | null;
  /** Other pairs that do as well: a table that asks more view under a lower ceiling. One of all has to be met. */
  readonly or?: readonly {
    readonly ceiling_ft: number;
    readonly visibility_m: number;
    readonly source: Source;
  }[];
  readonly from_ms: number | null;
  readonly until_ms: number | null;
  readonly source: Source;
};

/** `turns`: the pilot turns the nose as he likes there, so that the heading on the ground says nothing. */
export type WindLimitNeed = SectorLimit & {
  readonly turns?: boolean;
  /** A limit of what is done on the ground, which forbids no flight: it is told of, with what it is for. */
  readonly advises?: "doorOpen" | "parked";
  readonly operations: "all" | readonly OperationId[];
  readonly source: Source;
};

export type WeatherLimits = {
  /** How long an observation stands. */
  readonly reportAge_min: number;
  readonly stationDistance_km: number;
  readonly planning: PlanningRule;
  readonly wind: readonly WindLimitNeed[];
  /** True heading on the ground; null when it is not known. */
  readonly heading_deg: number | null;
  readonly tailwind: {
    readonly limit_kt: number;
    /** Null where it is not known: then any wind may come from behind. */
    readonly heading_deg: number | null;
    readonly source: Source;
  } | null;
  readonly icing: {
    readonly isProtected: boolean;
    /** Visible moisture at or below this forbids; null where nobody has a figure. */
    readonly moistureBelow_C: number | null;
    readonly source: Source;
    /** Whence the figure is; as `source` if left out. */
    readonly moistureSource?: Source;
  };
  /** Two-letter phenomena that forbid: `TS`, `FC`, `GR`, `VA` … */
  readonly forbidden: { readonly phenomena: readonly string[]; readonly source: Source };
};

export type WeatherQuestion = {
  readonly now_ms: number;
  readonly horizon_ms: number;
  readonly place: string;
  /** The highest ground that has to be cleared there: the site, or terrain of the route. */
  readonly ground_ft: number;
  readonly stations: readonly Station[];
  readonly held: readonly HeldReport[];
  readonly observations: readonly OwnObservation[];
  /** The lowest temperature to be reckoned with until the horizon, where somebody stated it. */
  readonly lowest_C: number | null;
  readonly needs: readonly WeatherNeed[];
  readonly limits: WeatherLimits;
};
