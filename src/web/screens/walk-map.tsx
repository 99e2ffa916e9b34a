// What every face of a walk shares: the aircraft as its map, what stands open, and how far a stop has come.
import { useMemo } from "react";
import type { ItemProgress } from "../../core/walk/progress.ts";
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
  const visited = facts.visits.map(({ stop }) => stop).filter((stop) => known.has(stop));
  const findings = new Map<string, number>();
  for (const { raised, closed } of Object.values(craft.state.findings)) {
    if (closed.length === 0) findings.set(raised.stop, (findings.get(raised.stop) ?? 0) + 1);
  }
  return (
    <AircraftDrawing
      outline={sheet.outline}
      stops={stops}
      visited={visited}
      here={here?.stop.id ?? null}
      ahead={ahead.map(({ stop }) => stop.id)}
      open={new Set(progress.open)}
      findings={findings}
      names="few"
      onStop={(stop) => void device.arriveAt(craft.ledger, facts.walk, stop)}
    />
  );
}

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
