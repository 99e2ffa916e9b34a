// The weather of the demo: invented stations on invented islands, invented reports in the true form of reports, and the
// limits of an invented operator. Everything is told up to the anchor and nothing after it, so that the demo shows what
// becomes of weather that nobody fetches: it ages, and then it is not known.
import { hour_ms, minute_ms, msToInstant } from "../src/core/facts/instant.ts";
import type { BaseState, SkyNeed } from "../src/core/facts/sky.ts";
import { demoBase } from "./cast.ts";
import type { Random } from "./random.ts";
import sites from "./sites.json" with { type: "json" };

type Body = Readonly<Record<string, unknown>>;

/** One entry of the base's ledger, not yet signed. A body that names an earlier entry is made from what is held then. */
export type Told = {
  readonly by: string;
  readonly type: string;
  readonly at_ms: number;
  readonly body: Body | ((held: BaseState) => Body);
};

/** No place on earth reports under ZZ. */
const stations = [
  {
    station: "ZZSK",
    name: demoBase.name,
    lat_deg: demoBase.lat_deg,
    lon_deg: demoBase.lon_deg,
    elevation_ft: 36,
    gives: null,
  },
  {
    station: "ZZGR",
    name: "Gråmåsvær",
    lat_deg: 70.33,
    lon_deg: 12.9,
    elevation_ft: 52,
    gives: ["wind", "visibility", "weather"],
  },
  { station: "ZZTE", name: "Teistøy", lat_deg: 70.02, lon_deg: 11.5, elevation_ft: 118, gives: null },
] as const;

const cite =
  "Operations manual of the demo, invented; figures not below the rule's table of 2012 for one pilot";
const night = { ceiling_ft: 1_200, visibility_m: 3_000 };
const need = (
  operation: string,
  light: SkyNeed["light"],
  ceiling_ft: number,
  visibility_m: number,
): SkyNeed => ({
  operation,
  light,
  day: { ceiling_ft, visibility_m },
  night: light === "any" ? night : null,
  cite,
});

const settings = {
  ruleSet: "eu",
  reportAge_min: 75,
  stationDistance_km: 30,
  ground_ft: 330,
  needs: [
    need("dayVfr", "day", 500, 1_500),
    need("nightVfr", "any", 500, 1_500),
    need("nvis", "any", 500, 1_500),
    need("ifr", "any", 500, 1_500),
    need("hoist", "day", 500, 2_000),
    need("overWater", "day", 600, 3_000),
    need("transfer", "any", 500, 1_500),
  ],
  moisture: null,
  forbidden: { phenomena: ["TS", "FC", "GR", "VA", "SQ"], cite },
  ncd: null,
  planning: null,
  pad: null,
  cooling: { atMost_C: 8, cite },
  replaces: [],
} as const;

/** The operator's sites, what its fuel scheme asks, and two notices: one that holds now and one that begins in two days. */
function sitesTold(at_ms: number, anchor_ms: number): readonly Told[] {
  const day_ms = 24 * hour_ms;
  const notice = (
    id: string,
    body: { about: { site: string }; kind: string; words: string },
    from_ms: number,
  ) => ({
    by: "p-holm",
    type: "site.noticed",
    at_ms: anchor_ms - 3 * hour_ms,
    body: {
      notice: id,
      ...body,
      from: msToInstant(from_ms),
      until: msToInstant(from_ms + 3 * day_ms),
      lifted: false,
      at: msToInstant(anchor_ms - 3 * hour_ms),
      replaces: [],
    },
  });
  return [
    {
      by: "p-sund",
      type: "sites.proposed",
      at_ms: at_ms - minute_ms,
      body: {
        edition: "1",
        geojson: sites,
        words: "the first file",
        at: msToInstant(at_ms - minute_ms),
        replaces: [],
      },
    },
    {
      by: "p-vik",
      type: "sites.released",
      at_ms,
      body: ({ sitesProposed }) => ({
        proposal: sitesProposed.at(-1)?.entry,
        at: msToInstant(at_ms),
        replaces: [],
      }),
    },
    {
      by: "p-vik",
      type: "fuel.schemeSet",
      at_ms: at_ms + minute_ms,
      body: { contingency_pct: 10, extra_kg: 5, landmarks: false, hems: null, cite, replaces: [] },
    },
    notice(
      "notice-school-closed",
      { about: { site: "siteSchool" }, kind: "closed", words: "sports day on the field" },
      anchor_ms - day_ms,
    ),
    notice(
      "notice-lunde-pad",
      { about: { site: "hospitalLunde" }, kind: "closed", words: "pad repainted" },
      anchor_ms + 2 * day_ms,
    ),
  ];
}

const two = (value: number): string => String(value).padStart(2, "0");
const three = (value: number): string => String(value).padStart(3, "0");

function dayHour(at_ms: number): string {
  const at = new Date(at_ms);
  return two(at.getUTCDate()) + two(at.getUTCHours());
}

function temperature(value: number): string {
  return value < 0 ? `M${two(-value)}` : two(value);
}

function metar(station: string, at_ms: number, isAuto: boolean, random: Random): string {
  const at = new Date(at_ms);
  const minutes = two(at.getUTCMinutes());
  const wind = `${three(random.whole(22, 25) * 10)}${two(random.whole(11, 16))}KT`;
  const [air_C, dew_C] = [random.whole(1, 3), random.whole(-4, -1)];
  const sky = isAuto ? "" : ` FEW0${random.whole(18, 22)} BKN0${random.whole(32, 38)}`;
  const pressure = `Q${random.whole(1_004, 1_006)}`;
  return (
    `METAR ${station} ${dayHour(at_ms)}${minutes}Z ${isAuto ? "AUTO " : ""}${wind} 9999${sky} ` +
    `${temperature(air_C)}/${temperature(dew_C)} ${pressure}`
  );
}

/** Fair for the next hours, snow showers in the seventh to the tenth, a fresh north-wester after that. */
function taf(station: string, issued_ms: number, anchor_ms: number): string {
  const from_ms = issued_ms + hour_ms;
  const hour = (hours: number): string => dayHour(Math.floor(anchor_ms / hour_ms + hours) * hour_ms);
  return (
    `TAF ${station} ${dayHour(issued_ms)}00Z ${dayHour(from_ms)}/${dayHour(from_ms + 24 * hour_ms)} 23014KT 9999 ` +
    `FEW018 BKN032 TEMPO ${hour(7)}/${hour(10)} 1200 SHSN BKN004 BECMG ${hour(11)}/${hour(13)} 31022G34KT`
  );
}

/** Everything that the base's ledger holds at the anchor, in order. `begun_ms`: when the operator set its limits. */
export function baseStory(begun_ms: number, anchor_ms: number, random: Random): readonly Told[] {
  const told: Told[] = stations.map((station, index) => ({
    by: "p-vik",
    type: "weather.stationDescribed",
    at_ms: begun_ms + index * minute_ms,
    body: { ...station, replaces: [] },
  }));
  told.push({ by: "p-vik", type: "weather.settingsSet", at_ms: begun_ms + hour_ms, body: settings });
  told.push(...sitesTold(begun_ms + 2 * hour_ms, anchor_ms));
  const heard = (text: string, at_ms: number): void => {
    const body = { text, source: "fetched", at: msToInstant(at_ms), replaces: [] };
    told.push({ by: "server", type: "weather.heard", at_ms, body });
  };
  const forecastHours = 6;
  const issued_ms =
    Math.floor((anchor_ms - 10 * minute_ms - 5 * hour_ms) / (forecastHours * hour_ms)) *
      forecastHours *
      hour_ms +
    5 * hour_ms;
  heard(taf("ZZSK", issued_ms, anchor_ms), issued_ms + 4 * minute_ms);
  const half = 30 * minute_ms;
  const last_ms = Math.floor((anchor_ms - 6 * minute_ms - 20 * minute_ms) / half) * half + 20 * minute_ms;
  for (let back = 7; back >= 0; back -= 1) {
    const at_ms = last_ms - back * half;
    heard(metar("ZZSK", at_ms, false, random), at_ms + 3 * minute_ms);
    heard(metar("ZZGR", at_ms, true, random), at_ms + 3 * minute_ms);
    if (back % 2 === 0) heard(metar("ZZTE", at_ms, false, random), at_ms + 4 * minute_ms);
  }
  return told.toSorted((a, b) => a.at_ms - b.at_ms);
}
