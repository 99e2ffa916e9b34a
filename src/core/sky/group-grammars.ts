// The groups of a METAR, SPECI or TAF: one row per form, with where it may stand, what it looks like and how it is read.
//
// Sources: WMO-No. 306 Manual on Codes, FM 15 METAR, FM 16 SPECI, FM 51 TAF; ICAO Annex 3, appendices 3 and 5; FAA AIM
// key to METAR and TAF and FMH-1 for statute miles, inHg and feet of runway visual range. The forms are from memory of
// those documents and held to the published reports in published/; nothing of their wording is repeated.
//
// A row's `read` writes into the draft and returns false where the group is well formed but impossible (wind from 999°):
// the group then counts as unread. Nothing is clamped or guessed. A row that is `isSingle` may be given once in a part.

import {
  type Draft,
  readCavok,
  readCloud,
  readDirectional,
  readForecastTemperature,
  readHectopascals,
  readInches,
  readMetres,
  readMiles,
  readNothing,
  readRecent,
  readRunwayState,
  readRunwayVisualRange,
  readSea,
  readShearLayer,
  readSkyClear,
  readTemperature,
  readVerticalVisibility,
  readWeather,
  readWind,
  readWindShear,
  readWindVariation,
} from "./group-values.ts";
import type { GroupName, Quantity } from "./report.ts";

/** Where a group may stand: in an observation, in the trend behind it, in the base or a change of a TAF. */
export type Place = "observed" | "trend" | "forecast";

export type Grammar = {
  readonly as: GroupName;
  readonly about: Quantity | null;
  readonly places: readonly Place[];
  /** The characters that its first word can begin with. */
  readonly lead: string;
  /** How many words it may take, where more than one. */
  readonly words?: number;
  readonly shape: RegExp;
  readonly isSingle?: true;
  /** `near_ms`: where the days and hours of the report are counted from. */
  readonly read: (found: RegExpExecArray, draft: Draft, near_ms: number) => boolean;
};

const everywhere = ["observed", "trend", "forecast"] as const;
const digits = "0123456789";

const precipitation = "(?:DZ|RA|SN|SG|IC|PL|GR|GS|UP)";
const blowing = "(?:DR|BL)(?:SN|SA|DU|PY)";
const presentWeather = [
  "VC(?:TS|SH|FG|FC|PO|VA|DS|SS|BL(?:SN|SA|DU))",
  `[+-]?(?:TS|SH|FZ)?${precipitation}{1,3}`,
  "TS",
  "(?:MI|BC|PR|FZ)?FG",
  "BR|FU|VA|HZ|PY|PO|SQ|DU|SA",
  `[+-]?${blowing}`,
  "\\+?FC",
  "[+-]?(?:SS|DS)",
].join("|");

const weatherLead = "+-VTSFDRIPGUMBHZ";

export const grammars: readonly Grammar[] = [
  {
    as: "wind",
    about: "wind",
    places: everywhere,
    lead: `${digits}V/`,
    shape: /^(\d{3}|VRB|\/{3})(?:(P)?(\d{2,3})|\/{2,3})(?:G(?:(P)?(\d{2,3})|\/{2}))?(KT|MPS|KMH)$/u,
    isSingle: true,
    read: readWind,
  },
  {
    as: "windVariation",
    about: "wind",
    places: ["observed"],
    lead: digits,
    shape: /^(\d{3})V(\d{3})$/u,
    isSingle: true,
    read: readWindVariation,
  },
  {
    as: "visibility",
    about: "visibility",
    places: everywhere,
    lead: `${digits}/`,
    shape: /^(\d{4}|\/{4})(?:NDV)?$/u,
    isSingle: true,
    read: readMetres,
  },
  {
    as: "visibility",
    about: "visibility",
    places: everywhere,
    lead: `${digits}PM`,
    words: 2,
    shape: /^([PM])?(?:(\d{1,2})|(?:(\d{1,2}) )?(\d{1,2})\/(\d{1,2}))SM$/u,
    isSingle: true,
    read: readMiles,
  },
  {
    as: "visibility",
    about: "visibility",
    places: ["observed"],
    lead: "/",
    shape: /^\/{4}SM$/u,
    isSingle: true,
    read: readNothing,
  },
  {
    as: "directionalVisibility",
    about: "visibility",
    places: ["observed"],
    lead: digits,
    shape: /^(\d{4})(N|NE|E|SE|S|SW|W|NW)$/u,
    read: readDirectional,
  },
  {
    as: "cavok",
    about: "visibility",
    places: everywhere,
    lead: "C",
    shape: /^CAVOK$/u,
    isSingle: true,
    read: readCavok,
  },
  {
    as: "runwayVisualRange",
    about: "runwayVisualRange",
    places: ["observed"],
    lead: "R",
    shape: /^R(\d\d(?:LL|RR|[LCR])?)\/(?:\/{4}|([PM])?(\d{4})(?:V([PM])?(\d{4}))?)(FT)?\/?([UDN])?$/u,
    read: readRunwayVisualRange,
  },
  {
    as: "weather",
    about: "weather",
    places: everywhere,
    lead: weatherLead,
    shape: new RegExp(`^(?:${presentWeather})$`, "u"),
    read: readWeather,
  },
  {
    as: "weather",
    about: "weather",
    places: ["trend", "forecast"],
    lead: "N",
    shape: /^NSW$/u,
    read: readWeather,
  },
  {
    as: "weather",
    about: "weather",
    places: ["observed"],
    lead: "/",
    shape: /^\/\/$/u,
    read: readWeather,
  },
  {
    as: "cloud",
    about: "sky",
    places: everywhere,
    lead: "FSBO/",
    shape: /^(FEW|SCT|BKN|OVC|\/{3})(\d{3}|\/{3})(CB|TCU|\/{3})?$/u,
    read: readCloud,
  },
  {
    as: "skyClear",
    about: "sky",
    places: everywhere,
    lead: "NSC",
    shape: /^(?:NSC|NCD|SKC|CLR)$/u,
    isSingle: true,
    read: readSkyClear,
  },
  {
    as: "verticalVisibility",
    about: "sky",
    places: everywhere,
    lead: "V",
    shape: /^VV(\d{3}|\/{3})$/u,
    isSingle: true,
    read: readVerticalVisibility,
  },
  {
    as: "temperature",
    about: "temperature",
    places: ["observed"],
    lead: `${digits}M/`,
    shape: /^(?!\/{3}$)(M?\d\d|\/\/)\/(M?\d\d|\/\/)?$/u,
    isSingle: true,
    read: readTemperature,
  },
  {
    as: "forecastTemperature",
    about: "temperature",
    places: ["forecast"],
    lead: "T",
    shape: /^T([XN])(M?\d\d)\/(\d\d)(\d\d)Z$/u,
    read: readForecastTemperature,
  },
  {
    as: "pressure",
    about: "pressure",
    places: ["observed"],
    lead: "Q",
    shape: /^Q(\d{4}|\/{4})$/u,
    isSingle: true,
    read: readHectopascals,
  },
  {
    as: "pressure",
    about: "pressure",
    places: ["observed"],
    lead: "A",
    shape: /^A(\d{4}|\/{4})$/u,
    isSingle: true,
    read: readInches,
  },
  {
    as: "pressure",
    about: "pressure",
    places: ["forecast"],
    lead: "Q",
    shape: /^QNH(\d{4})INS$/u,
    isSingle: true,
    read: readInches,
  },
  {
    as: "recentWeather",
    about: "recentWeather",
    places: ["observed"],
    lead: "R",
    shape: new RegExp(`^RE(\\/\\/|${presentWeather})$`, "u"),
    read: readRecent,
  },
  {
    as: "windShear",
    about: "windShear",
    places: ["observed"],
    lead: "W",
    words: 3,
    shape: /^WS (?:ALL RWY|(?:(?:TKOF|LDG) )?(?:RWY|R)(\d\d[LCR]?))$/u,
    read: readWindShear,
  },
  {
    as: "windShear",
    about: "windShear",
    places: ["forecast"],
    lead: "W",
    shape: /^WS\d{3}\/(\d{3})P?\d{2,3}(?:KT|MPS|KMH)$/u,
    read: readShearLayer,
  },
  {
    as: "sea",
    about: "sea",
    places: ["observed"],
    lead: "W",
    shape: /^W(?:M?\d\d|\/\/)\/(?:S[\d/]|H(?:\d{1,3}|\/{3}))$/u,
    isSingle: true,
    read: readSea,
  },
  {
    as: "runwayState",
    about: "runwayState",
    places: ["observed"],
    lead: `${digits}RS`,
    shape:
      /^(?:R(\d\d[LCR]?)\/(?:(?:CLRD|[\d/]{4})(?:\d\d|\/\/)|CLRD)|(\d\d)(?:CLRD|[\d/]{4})(?:\d\d|\/\/)|(?:R\/)?SNOCLO)$/u,
    read: readRunwayState,
  },
  {
    as: "colourState",
    about: null,
    places: ["observed", "trend"],
    lead: "BWGYAR",
    shape: /^(?:BLACK)?(?:BLU\+?|WHT|GRN|YLO[12]?|AMB|RED)$/u,
    read: readNothing,
  },
];

/** Forms that a damaged group still shows: what it was about is known, what it said is not. */
export const resemblances: readonly { readonly about: Quantity; readonly shape: RegExp }[] = [
  { about: "wind", shape: /^[\dVRBGP/]+(?:KT|MPS|KMH)$/u },
  { about: "visibility", shape: /^[PM]?[\d/]+SM$/u },
  { about: "sky", shape: /^(?:FEW|SCT|BKN|OVC|VV)/u },
  { about: "temperature", shape: /^(?:M?\d{1,2}|\/\/)\/(?:M?\d{1,2}|\/\/)$/u },
  { about: "pressure", shape: /^[QA]\d+$/u },
];
