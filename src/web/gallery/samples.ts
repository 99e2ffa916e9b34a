// Invented contents for the gallery: nobody's machine, nobody's names, no computed standing.
import type { RibbonSpan } from "../../present/ribbon.ts";
import { phrase, subject } from "../../present/words/phrase.ts";
import type { ReasonRowProps } from "../parts/reasons.tsx";
import type { RibbonTime, StandingRowSpec } from "../parts/ribbon.tsx";

const at = (text: string) => Date.parse(`${text}Z`);

export const now_ms = at("2025-12-02T06:52:00");
export const zone = "Europe/Oslo";

export const day: RibbonTime = {
  from_ms: at("2025-12-02T05:00:00"),
  until_ms: at("2025-12-03T11:00:00"),
  now_ms,
};

const spans = (
  ...parts: readonly (readonly [string, string, RibbonSpan["verdict"]])[]
): readonly RibbonSpan[] =>
  parts.map(([from, until, verdict]) => ({ from_ms: at(from), until_ms: at(until), verdict }));

const [d2, d3] = ["2025-12-02T", "2025-12-03T"];

export const dayVfr = spans(
  [`${d2}05:00:00`, `${d2}14:12:00`, "withinLimits"],
  [`${d2}14:12:00`, `${d3}07:20:00`, "notReady"],
  [`${d3}07:20:00`, `${d3}11:00:00`, "ready"],
);
export const nightVfr = spans([`${d2}05:00:00`, `${d3}11:00:00`, "notReady"]);
export const hoist = spans([`${d2}05:00:00`, `${d3}11:00:00`, "notKnown"]);
export const transfer = spans(
  [`${d2}05:00:00`, `${d3}05:00:00`, "ready"],
  [`${d3}05:00:00`, `${d3}11:00:00`, "notReady"],
);
export const mixed = spans(
  [`${d2}05:00:00`, `${d2}08:00:00`, "notKnown"],
  [`${d2}08:00:00`, `${d2}13:00:00`, "ready"],
  [`${d2}13:00:00`, `${d2}13:04:00`, "notReady"],
  [`${d2}13:04:00`, `${d2}20:00:00`, "withinLimits"],
  [`${d2}20:00:00`, `${d3}02:00:00`, "notKnown"],
  [`${d3}02:00:00`, `${d3}11:00:00`, "notReady"],
);

type Told = { readonly en: string; readonly de: string };

export const standingRows = (language: "en" | "de"): readonly StandingRowSpec[] => {
  const row = (id: string, name: Told, note: Told, rowSpans: readonly RibbonSpan[]): StandingRowSpec => ({
    id,
    name: name[language],
    note: note[language],
    spans: rowSpans,
  });
  return [
    row(
      "dayVfr",
      { en: "Day VFR", de: "Sichtflug bei Tag" },
      { en: "wind at most 40 kt", de: "Wind höchstens 40 kt" },
      dayVfr,
    ),
    row(
      "nightVfr",
      { en: "Night VFR", de: "Sichtflug bei Nacht" },
      { en: "landing light deferred", de: "Landescheinwerfer zurückgestellt" },
      nightVfr,
    ),
    row(
      "hoist",
      { en: "Hoist", de: "Windeneinsatz" },
      { en: "no reference call", de: "kein Bezugseinsatz" },
      hoist,
    ),
    row("transfer", { en: "Transfer", de: "Verlegungsflug" }, { en: "ready", de: "einsatzklar" }, transfer),
  ];
};

type SampleReason = ReasonRowProps & { readonly id: string };

export const reasons = (language: "en" | "de", onOpen: () => void): readonly SampleReason[] =>
  language === "en"
    ? [
        {
          id: "latch",
          effect: "blocks",
          title: phrase`${subject("Left cowl latch")} is open`,
          detail: "opened 06:41 by Ravn, walk",
          clears: "1 min",
          onOpen,
        },
        {
          id: "weather",
          effect: "unknown",
          title: phrase`Weather at ${subject("Hvaløy")} is 96 min old`,
          detail: "ask, or look yourself",
          clears: "10 min",
          onOpen,
        },
        {
          id: "wind",
          effect: "limits",
          title: phrase`${subject("Rotor start")} up to 40 kt of wind`,
          detail: "now 24 kt, gusts to 36",
          clears: "by itself",
          onOpen,
        },
        {
          id: "light",
          effect: "blocks",
          title: phrase`${subject("Landing light")}, category C`,
          detail: "last day 5 December",
          clears: "engineer",
          onOpen,
        },
        {
          id: "oil",
          effect: "advises",
          title: phrase`${subject("Engine 1 oil")} falls faster since 1,203 h`,
          detail: "add before 1,228 h",
          clears: "not today",
          onOpen,
        },
      ]
    : [
        {
          id: "latch",
          effect: "blocks",
          title: phrase`${subject("Linke Triebwerksverkleidung")} ist nicht verriegelt`,
          detail: "geöffnet 06:41 von Ravn beim Rundgang",
          clears: "1 min",
          onOpen,
        },
        {
          id: "weather",
          effect: "unknown",
          title: phrase`Wettermeldung von ${subject("Hvaløy")} ist 96 min alt`,
          detail: "nachfragen oder selbst hinausschauen",
          clears: "10 min",
          onOpen,
        },
        {
          id: "light",
          effect: "blocks",
          title: phrase`${subject("Außenlandescheinwerfer")}, Kategorie C`,
          detail: "zurückgestellt, letzter Tag 5. Dezember",
          clears: "Technik",
          onOpen,
        },
      ];

export const people = [
  { id: "p1", name: "Solveig Ravn", role: "pilot" },
  { id: "p2", name: "Aksel Lind", role: "technical crew member" },
  {
    id: "p3",
    name: "Wilhelmina-Charlotte von Hohenstein-Österreicher",
    role: "engineer, airworthiness office",
  },
];
