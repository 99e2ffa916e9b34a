// What every face of a walk shares: the aircraft as its map, what stands open, and how far a stop has come.
import { memo, useCallback, useMemo } from "react";
import { isClosed } from "../../core/finding/judgement.ts";
import type { ItemProgress } from "../../core/walk/progress.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import type { DrawnStop } from "../../present/drawing/aircraft-drawing.ts";
import type { CraftView } from "../device/model.ts";
import { AircraftDrawing } from "../parts/aircraft-drawing.tsx";
import { Glyph } from "../parts/glyph.tsx";
import { OpenFrame } from "../parts/open-frame.tsx";
import { useLocale } from "../parts/words.tsx";
import { useApp, useNames } from "./app-context.tsx";
import type { WalkView } from "./walk-view.ts";

/** The aircraft as the map of the walk; a tap on a stop goes there. */
export function WalkMap({ craft, view }: { readonly craft: CraftView; readonly view: WalkView }) {
  const { device } = useApp();
  const { language } = useLocale();
  const { sheet, plan, facts, here, ahead, progress } = view;
  const stops = useMemo(
    () => plan.stops.map(({ stop }) => ({ ...stop, name: stop.name[language] })),
    [plan.stops, language],
  );
  const known = new Set(stops.map(({ id }) => id));
  const drawn: Drawn = {
    visited: facts.visits.map(({ stop }) => stop).filter((stop) => known.has(stop)),
    ahead: ahead.map(({ stop }) => stop.id),
    open: progress.open,
    findings: Object.values(craft.state.findings)
      .filter((finding) => !isClosed(sheet, finding))
      .map(({ raised }) => raised.stop),
  };
  return (
    <MapDrawing
      outline={sheet.outline}
      stops={stops}
      drawn={JSON.stringify(drawn)}
      here={here?.stop.id ?? null}
      onStop={useCallback(
        (stop) => void device.arriveAt(craft.ledger, facts.walk, stop),
        [device, craft.ledger, facts.walk],
      )}
    />
  );
}

type Drawn = {
  readonly visited: readonly string[];
  readonly ahead: readonly string[];
  readonly open: readonly string[];
  /** The stop of each open finding. */
  readonly findings: readonly string[];
};

type MapProps = {
  readonly outline: Sheet["outline"];
  readonly stops: readonly DrawnStop[];
  /** `Drawn` as text: equal where nothing that is drawn has changed, as after most taps. */
  readonly drawn: string;
  readonly here: string | null;
  readonly onStop: (stop: string) => void;
};

const MapDrawing = memo(function MapDrawing({ drawn, ...rest }: MapProps) {
  const input = useMemo(() => {
    const { visited, ahead, open, findings } = JSON.parse(drawn) as Drawn;
    const counts = new Map<string, number>();
    for (const stop of findings) counts.set(stop, (counts.get(stop) ?? 0) + 1);
    return { visited, ahead, open: new Set(open), findings: counts };
  }, [drawn]);
  return <AircraftDrawing {...rest} {...input} names="few" />;
});

/** What stands open, here or elsewhere, until it is closed. */
export function WhatIsOpen({ craft, view }: { readonly craft: CraftView; readonly view: WalkView }) {
  const names = useNames(craft);
  const { progress, sheet, here } = view;
  const named = (ids: readonly string[]) => ids.map((id) => ({ id, name: names.of("closure", id) }));
  const isHere = (id: string) =>
    sheet.closures.some((closure) => closure.id === id && closure.stop === here?.stop.id);
  return (
    <>
      <OpenFrame here open={named(progress.open.filter(isHere))} />
      <OpenFrame here={false} open={named(progress.open.filter((id) => !isHere(id)))} />
    </>
  );
}

/** How a stop stands: blank while any item is, a finding where one was found. */
export function StopMark({ items }: { readonly items: readonly ItemProgress[] }) {
  const blank = items.some(({ mark }) => mark === null);
  const found = items.some(({ mark }) => mark === "finding");
  return <Glyph name={blank ? "blank" : found ? "finding" : "good"} />;
}
