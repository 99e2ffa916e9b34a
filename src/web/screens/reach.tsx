// Reach: every scene for which this call would be acceptable now, as a map hatched by the margin that binds elsewhere, and as a
// table by bearing for whoever does not see it. Redrawn in a worker while fuel, patient or wind change under a finger.
import { memo, useEffect, useMemo, useRef, useState } from "react";
import { displayNumber } from "../../core/quantity/display.ts";
import type { Call, CallKnown, CallPlace, MarginKind } from "../../core/reach/call.ts";
import { basePlace, hospitalsFrom } from "../../core/standing/call-desk.ts";
import type { CallDesk } from "../../core/standing/call-desk.ts";
import { hatchOf, isInked } from "../../present/plots/hatch.ts";
import type { Hatch } from "../../present/plots/hatch.ts";
import { halfFor, landPath } from "../../present/plots/place-map.ts";
import type { CraftView } from "../device/model.ts";
import "../look/call.css";
import { Notice } from "../parts/notice.tsx";
import { Table } from "../parts/table.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useSnapshot } from "./app-context.tsx";
import { CallSteppers, useCallDraft } from "./call.tsx";
import { Mark, Sites } from "./call-map.tsx";
import { callSaid, deskOf, numberSaid, operationOf, usualOf } from "./call-view.ts";
import type { CallDraft } from "./call-view.ts";
import { Frame } from "./frame.tsx";
import { boxAbout } from "./reach-box.ts";
import type { ReachAsk, ReachDesk, ReachDrawn } from "./reach-worker.ts";
import { useAmounts } from "./use-amounts.ts";
import { useCallWords } from "./use-call-words.ts";

const cells = 200;
const cell = 3;

export function ReachScreen({ craft }: { readonly craft: CraftView }) {
  const words = useCallWords();
  const { app } = useWords();
  const made = deskOf(craft);
  const name = `${craft.name} · ${app.screens.reach}`;
  const hospitals =
    made === null || made.desk.base === null ? [] : hospitalsFrom(made.known, basePlace(made.desk.base));
  if (made === null || made.desk.base === null || hospitals.length === 0)
    return (
      <Frame craft={craft} name={name} nameAs="h1">
        <Notice title={made === null || made.desk.base === null ? words.noBase : words.noHospital} />
      </Frame>
    );
  return (
    <Frame craft={craft} name={name} nameAs="h1">
      <Inside craft={craft} desk={made.desk} known={made.known} base={basePlace(made.desk.base)} />
    </Frame>
  );
}

/** The call whose scene is put everywhere; its own place says the elevation. */
function templateOf(
  desk: CallDesk,
  draft: CallDraft,
  known: CallKnown,
  base: CallPlace,
  now_ms: number,
  language: "en" | "de",
): Call | null {
  const usual = operationOf(draft, desk)?.referenceCall?.siteElevation_ft ?? null;
  const elevation_ft = numberSaid(draft, "elevation_ft", language) ?? usual;
  const [first] = hospitalsFrom(known, base);
  const scene = { ...base, name: "scene", elevation_ft, site: null };
  const call = callSaid(
    { desk, known },
    { ...draft, uplift: null },
    scene,
    first?.place ?? null,
    now_ms,
    language,
  );
  return call === null ? null : { ...call, mostFuel_kg: null };
}

type InsideProps = {
  readonly craft: CraftView;
  readonly desk: CallDesk;
  readonly known: CallKnown;
  readonly base: CallPlace;
};

function Inside({ craft, desk, known, base }: InsideProps) {
  const { now_ms } = useSnapshot();
  const words = useCallWords();
  const { language } = useLocale();
  const [draft, change] = useCallDraft(craft.ledger);
  const { units: unitNames } = useWords();
  const { units } = draft;
  const half_nm = halfFor(base, known.sites);
  const minute = Math.floor(now_ms / 60_000) * 60_000;
  const call = useMemo(
    () => templateOf(desk, draft, known, base, minute, language),
    // The base is made anew at every look; it comes from the desk.
    // oxlint-disable-next-line react-hooks/exhaustive-deps
    [desk, draft, known, minute, language],
  );
  const { drawn, failed } = useReach(desk, base, half_nm, call);
  const usual = usualOf(call, minute);
  const map = words.reachMap;
  return (
    <div className="call-columns">
      <div className="stack">
        <p>{map.caption}</p>
        {/* An area that is left plain says that it can be reached: without an answer there is no map. */}
        {drawn !== null && <ReachMap known={known} base={base} half_nm={half_nm} drawn={drawn} />}
        <p>
          <b>{map.notIn}</b>
        </p>
        {failed && <Notice kind="problem" title={map.failed} />}
        {drawn === null && !failed && <p className="quiet">{map.drawing}</p>}
      </div>
      <div className="stack">
        <CallSteppers
          draft={draft}
          change={change}
          usual={usual}
          asks={[
            { asked: "fuel_kg", label: words.fuel, unit: unitNames[units.mass] },
            { asked: "patient_kg", label: words.patient, unit: unitNames[units.mass] },
            {
              asked: "elevation_ft",
              label: words.elevation,
              unit: unitNames[units.height],
              hint: words.elevationHint,
            },
            { asked: "wind_kt", label: map.windSpeed, unit: "kt" },
            { asked: "wind_deg", label: map.wind, unit: "°" },
          ]}
        />
        {/* Under the steppers, which must not move while one is held: the list is as long as what binds. */}
        {drawn !== null && <Legend drawn={drawn} />}
        {drawn !== null && <Bearings drawn={drawn} />}
      </div>
    </div>
  );
}

/** Asks the worker one call at a time, always the newest; what came in between is left out. */
function useReach(desk: CallDesk, base: CallPlace, half_nm: number, call: Call | null) {
  const { light } = useApp();
  const [drawn, setDrawn] = useState<ReachDrawn | null>(null);
  const [failed, setFailed] = useState(false);
  const worker = useRef<Worker | null>(null);
  const busy = useRef(false);
  const next = useRef<ReachAsk | null>(null);
  const asked = useRef(0);
  useEffect(() => {
    const made = new Worker(new URL("./reach-worker.ts", import.meta.url), { type: "module" });
    // A map of another call must not stand there as if it were this one's.
    const show = (found: ReachDrawn | null) => {
      busy.current = false;
      setFailed(found === null);
      setDrawn(found);
      const waiting = next.current;
      next.current = null;
      if (waiting === null) return;
      busy.current = true;
      made.postMessage(waiting);
    };
    made.addEventListener("message", ({ data }: MessageEvent<ReachDrawn | { readonly failed: true }>) =>
      show("failed" in data ? null : data),
    );
    made.addEventListener("error", () => show(null));
    worker.current = made;
    return () => {
      made.terminate();
      worker.current = null;
      busy.current = false;
    };
  }, []);
  useEffect(() => {
    const { sheet, state, situation, reasons, base: sky } = desk;
    const told: ReachDesk = {
      kind: "desk",
      desk: { sheet, state, situation, reasons, base: sky },
      box: boxAbout(base, half_nm),
      rows: cells,
      columns: cells,
      cell,
      half_nm,
    };
    worker.current?.postMessage(told);
    // The base is made anew at every look; it comes from the desk.
    // oxlint-disable-next-line react-hooks/exhaustive-deps
  }, [desk, half_nm]);
  useEffect(() => {
    if (call === null) return;
    asked.current += 1;
    const ask: ReachAsk = {
      kind: "ask",
      id: asked.current,
      call,
      ink: colourOf("--ink"),
      paper: colourOf("--paper"),
    };
    if (busy.current) {
      next.current = ask;
      return;
    }
    busy.current = true;
    worker.current?.postMessage(ask);
  }, [call, desk, light]);
  return { drawn, failed };
}

/** A colour of the light that is set, as red, green and blue. */
function colourOf(name: string): readonly [number, number, number] {
  const text = getComputedStyle(document.documentElement).getPropertyValue(name).trim();
  const digits = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/iu.exec(text);
  const part = (at: number): number => Number.parseInt(digits?.[at] ?? "0", 16);
  return [part(1), part(2), part(3)];
}

type MapProps = {
  readonly known: CallKnown;
  readonly base: CallPlace;
  readonly half_nm: number;
  readonly drawn: ReachDrawn;
};

function ReachMap({ known, base, half_nm, drawn }: MapProps) {
  const words = useCallWords();
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const context = canvas.current?.getContext("2d");
    if (context == null) return;
    context.putImageData(new ImageData(new Uint8ClampedArray(drawn.pixels), drawn.width, drawn.height), 0, 0);
  }, [drawn]);
  const size = cells * cell;
  const frame = { middle: base, half_nm, width: size, height: size };
  return (
    <div className="reach-map" data-drawn={drawn.id}>
      {/* oxlint-disable-next-line jsx-a11y/prefer-tag-over-role */}
      <canvas ref={canvas} width={size} height={size} role="img" aria-label={words.reachMap.caption} />
      <svg viewBox={`0 0 ${size} ${size}`} aria-hidden="true">
        <path className="map-land" d={landPath(frame, known.land)} />
        <Sites known={known} frame={frame} />
        <Mark frame={frame} at={base} kind="base" />
      </svg>
    </div>
  );
}

/** By the picture alone: a press of a stepper draws neither of these two anew. */
const Legend = memo(function Legend({ drawn }: { readonly drawn: ReachDrawn }) {
  const words = useCallWords();
  const { language } = useLocale();
  const all = cells * cells;
  const share = (count: number, worse: "lower" | "higher") =>
    words.reachMap.share(displayNumber((100 * count) / all, 0, worse, language));
  const kinds = Object.entries(drawn.byKind).toSorted(([, a], [, b]) => b - a) as [MarginKind, number][];
  const rows: readonly { readonly name: string; readonly count: number; readonly hatch: Hatch | null }[] = [
    { name: words.reachMap.acceptable, count: drawn.ready, hatch: null },
    { name: words.reachMap.within, count: drawn.within, hatch: null },
    ...kinds.map(([kind, count]) => ({ name: words.margin[kind], count, hatch: hatchOf(kind) })),
    { name: words.reachMap.unknown, count: drawn.unknown, hatch: hatchOf("unknown") },
  ];
  return (
    <section>
      <h2 className="heading-small">{words.reachMap.legend}</h2>
      <ul className="reach-legend">
        {rows
          .filter(({ count }) => count > 0)
          .map(({ name, count, hatch }) => (
            <li key={name}>
              <Swatch hatch={hatch} />
              <span>
                {name}{" "}
                <span className="quiet small">{share(count, hatch === null ? "lower" : "higher")}</span>
              </span>
            </li>
          ))}
      </ul>
    </section>
  );
});

function Swatch({ hatch }: { readonly hatch: Hatch | null }) {
  const { light } = useApp();
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const context = canvas.current?.getContext("2d");
    if (context == null) return;
    const [ink, paper] = [colourOf("--ink"), colourOf("--paper")];
    const picture = context.createImageData(48, 24);
    for (let y = 0; y < 24; y += 1)
      for (let x = 0; x < 48; x += 1)
        picture.data.set([...(hatch !== null && isInked(hatch, x, y) ? ink : paper), 255], (y * 48 + x) * 4);
    context.putImageData(picture, 0, 0);
    // The colours are those of the light that is set.
    // oxlint-disable-next-line react/exhaustive-effect-dependencies
  }, [hatch, light]);
  return <canvas ref={canvas} width={48} height={24} aria-hidden="true" />;
}

const Bearings = memo(function Bearings({ drawn }: { readonly drawn: ReachDrawn }) {
  const words = useCallWords();
  const amounts = useAmounts();
  const { units: unitNames } = useWords();
  const { reachMap } = words;
  const number = (value_nm: number) => amounts.bare(value_nm, "distance", "lower");
  return (
    <Table
      caption={reachMap.bearingTable}
      rows={drawn.along}
      rowId={({ bearing_deg }) => `${bearing_deg}`}
      columns={[
        {
          id: "bearing",
          head: reachMap.bearing,
          kind: "name",
          cell: ({ bearing_deg }) => `${String(Math.round(bearing_deg)).padStart(3, "0")}°`,
        },
        {
          id: "far",
          head: unitNames[amounts.units.distance],
          kind: "number",
          cell: ({ upTo_nm }) => (upTo_nm === 0 ? reachMap.nowhere : number(upTo_nm)),
        },
        {
          id: "binds",
          head: reachMap.binds,
          cell: ({ binding }) => (binding === null ? reachMap.tillEdge : words.margin[binding]),
        },
      ]}
    />
  );
});
