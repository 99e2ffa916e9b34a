// What a weather report says, read: a METAR, SPECI or TAF as plain data, with every group of the text accounted for.
//
// Speeds in knots, visibility in metres, heights in feet above the aerodrome, temperatures in °C, pressure in hPa,
// directions in degrees true, instants in milliseconds since 1970-01-01T00:00Z. Nothing here is judged.
//
// Two kinds of not knowing are kept apart in `Conditions`: a quantity that the text does not mention (in a change group:
// it stays as it was), and one that the text could not give (`///`) or that could not be read (`unsure`).

export const quantities = [
  "wind",
  "visibility",
  "runwayVisualRange",
  "weather",
  "sky",
  "temperature",
  "pressure",
  "recentWeather",
  "windShear",
  "sea",
  "runwayState",
] as const;
export type Quantity = (typeof quantities)[number];

/** What a group was taken as. `unread`: it has the form of nothing that may stand here. */
export type GroupName =
  | "kind"
  | "status"
  | "station"
  | "issueTime"
  | "auto"
  | "nil"
  | "cancelled"
  | "validity"
  | "change"
  | "changeTime"
  | "wind"
  | "windVariation"
  | "visibility"
  | "directionalVisibility"
  | "cavok"
  | "runwayVisualRange"
  | "weather"
  | "cloud"
  | "skyClear"
  | "verticalVisibility"
  | "temperature"
  | "forecastTemperature"
  | "pressure"
  | "recentWeather"
  | "windShear"
  | "sea"
  | "runwayState"
  | "colourState"
  | "remark"
  | "unread";

/** One group of the text, verbatim; `isRead` is false where it has the form of `as` but says something impossible. */
export type Group = {
  readonly text: string;
  readonly as: GroupName;
  readonly isRead: boolean;
  /** 0 for the report itself, n for `periods[n - 1]`. */
  readonly part: number;
};

export type Wind = {
  /** Null when variable or not given. Calm is from 0°, north is from 360°. */
  readonly from_deg: number | null;
  readonly isVariable: boolean;
  readonly speed_kt: number | null;
  readonly isSpeedAbove: boolean;
  readonly gust_kt: number | null;
  readonly isGustAbove: boolean;
  readonly between_deg: readonly [number, number] | null;
};

/** `below`: less than the value (M1/4SM); `atLeast`: the value or more (9999, P6SM). */
export type Visibility = { readonly value_m: number; readonly bound: "exact" | "atLeast" | "below" };

export type DirectionalVisibility = { readonly value_m: number; readonly from_deg: number };

export type RunwayVisualRange = {
  readonly runway: string;
  /** The lower end where the text gives a range; null for `////`. */
  readonly value_m: number | null;
  readonly bound: "above" | "below" | null;
  readonly tendency: "up" | "down" | "none" | null;
};

export type Cover = "FEW" | "SCT" | "BKN" | "OVC";
export type Layer = {
  readonly cover: Cover | null;
  readonly base_ft: number | null;
  readonly kind: "CB" | "TCU" | null;
};

export type SkyClear = "NSC" | "NCD" | "SKC" | "CLR";

export type ForecastTemperature = {
  readonly extreme: "highest" | "lowest";
  readonly value_C: number;
  readonly at_ms: number;
};

/** What one part of a report states. */
export type Conditions = {
  readonly wind: Wind | null;
  readonly visibility: Visibility | null;
  readonly directional: readonly DirectionalVisibility[];
  readonly cavok: boolean;
  readonly runwayVisualRange: readonly RunwayVisualRange[];
  /** Codes as written; `NSW` where a change group ends the weather, `//` where a station cannot observe it. */
  readonly weather: readonly string[];
  readonly recent: readonly string[];
  readonly clouds: readonly Layer[];
  readonly skyClear: SkyClear | null;
  /** Null when there is no VV group; its height is null for `VV///`. */
  readonly verticalVisibility: { readonly height_ft: number | null } | null;
  readonly temperature_C: number | null;
  readonly dewpoint_C: number | null;
  readonly qnh_hPa: number | null;
  readonly windShear: readonly string[];
  readonly sea: string | null;
  readonly runwayState: readonly string[];
  readonly forecastTemperatures: readonly ForecastTemperature[];
  /** Quantities of which the text has a group, even one that says `///`. */
  readonly stated: readonly Quantity[];
  /** Quantities that an unread group of this part could have been about. */
  readonly unsure: readonly Quantity[];
};

export const changes = [
  "base",
  "BECMG",
  "TEMPO",
  "PROB30",
  "PROB40",
  "PROB30_TEMPO",
  "PROB40_TEMPO",
  "FM",
  "NOSIG",
] as const;
export type Change = (typeof changes)[number];

export type Period = {
  readonly change: Change;
  /** Null where its time could not be read: it may apply at any time. */
  readonly from_ms: number | null;
  readonly to_ms: number | null;
  readonly conditions: Conditions;
};

export type ReportKind = "METAR" | "SPECI" | "TAF";

export type WeatherReport = {
  readonly text: string;
  readonly kind: ReportKind;
  readonly station: string | null;
  readonly issued_ms: number | null;
  readonly isAuto: boolean;
  readonly isNil: boolean;
  readonly isCancelled: boolean;
  readonly status: "correction" | "amendment" | null;
  /**
   * A word had no known form at all. In a TAF it could have begun a change, so that none of its periods is certain
   * beyond what it says itself.
   */
  readonly hasStray: boolean;
  /** What was observed; in a TAF what its base forecasts. */
  readonly conditions: Conditions;
  readonly remarks: string | null;
  /** TAF only. */
  readonly valid: { readonly from_ms: number; readonly to_ms: number } | null;
  /** The trend of a METAR or SPECI; the base and the changes of a TAF. */
  readonly periods: readonly Period[];
  readonly groups: readonly Group[];
};

export const noConditions: Conditions = {
  wind: null,
  visibility: null,
  directional: [],
  cavok: false,
  runwayVisualRange: [],
  weather: [],
  recent: [],
  clouds: [],
  skyClear: null,
  verticalVisibility: null,
  temperature_C: null,
  dewpoint_C: null,
  qnh_hPa: null,
  windShear: [],
  sea: null,
  runwayState: [],
  forecastTemperatures: [],
  stated: [],
  unsure: [],
};

/** The groups that were not read, verbatim and in the order of the text. */
export function unreadGroups(report: WeatherReport): string[] {
  return report.groups.filter((group) => !group.isRead).map((group) => group.text);
}
