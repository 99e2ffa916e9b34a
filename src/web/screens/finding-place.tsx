// Where a finding is: the place by a tap on the drawing, then the part and zone that the sheet limits there.
import { useMemo } from "react";
import type { Sheet } from "../../core/sheet/schema.ts";
import { asTitle } from "../../present/sentence-case.ts";
import type { CraftView } from "../device/model.ts";
import { AircraftDrawing } from "../parts/aircraft-drawing.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Picker } from "../parts/picker.tsx";
import { useLocale } from "../parts/words.tsx";
import { useNames } from "./app-context.tsx";
import { type Zone, zonesAt } from "./findings-view.ts";
import { useFindingsWords } from "./use-findings-words.ts";

type StopDrawingProps = {
  readonly sheet: Sheet;
  /** Count of findings by stop. */
  readonly counts: ReadonlyMap<string, number>;
  readonly here: string | null;
  readonly onStop: (stop: string) => void;
};

const nobody: readonly string[] = [];
const nothingOpen: ReadonlySet<string> = new Set();

/** The aircraft with a tick for every finding; every stop can be tapped. */
export function StopDrawing({ sheet, counts, here, onStop }: StopDrawingProps) {
  const { language } = useLocale();
  const stops = useMemo(
    () => sheet.stops.map((stop) => ({ ...stop, name: asTitle(stop.name[language], language) })),
    [sheet.stops, language],
  );
  return (
    <AircraftDrawing
      outline={sheet.outline}
      stops={stops}
      visited={nobody}
      here={here}
      ahead={nobody}
      open={nothingOpen}
      findings={counts}
      names="few"
      as="places"
      onStop={onStop}
    />
  );
}

type StopChoiceProps = {
  readonly craft: CraftView;
  readonly onStop: (stop: string) => void;
};

export function StopChoice({ craft, onStop }: StopChoiceProps) {
  const words = useFindingsWords();
  const names = useNames(craft);
  const { sheet } = craft;
  if (sheet === null) return null;
  return (
    <section className="stack">
      <p>{words.capture.where}</p>
      <StopDrawing sheet={sheet} counts={new Map()} here={null} onStop={onStop} />
      <Picker
        label={words.capture.stopFromList}
        choices={sheet.stops.map(({ id }) => ({ id, name: names.title("stop", id) }))}
        value={null}
        onChoose={onStop}
      />
    </section>
  );
}

const elsewhere = "elsewhere";

type ZoneChoiceProps = {
  readonly craft: CraftView;
  readonly stop: string;
  /** Undefined while nothing is chosen; null for what the sheet does not limit. */
  readonly zone: Zone | null | undefined;
  readonly onZone: (zone: Zone | null) => void;
};

export function ZoneChoice({ craft, stop, zone, onZone }: ZoneChoiceProps) {
  const words = useFindingsWords();
  const { language } = useLocale();
  const zones = zonesAt(craft, stop, language);
  if (zones.length === 0) return <p className="small quiet">{words.capture.noZones}</p>;
  return (
    <ChoiceRow
      name={words.capture.zone}
      width="long"
      choices={[
        ...zones.map(({ key, name }) => ({ value: key, label: asTitle(name, language) })),
        { value: elsewhere, label: asTitle(words.capture.elsewhere, language) },
      ]}
      value={zone === undefined ? null : (zone?.key ?? elsewhere)}
      onChoose={(key) => onZone(zones.find((candidate) => candidate.key === key) ?? null)}
    />
  );
}
