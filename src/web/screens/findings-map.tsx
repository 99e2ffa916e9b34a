// The aircraft as a map of everything that was found: a tick for every finding at its place, by time, kind and machine; and
// the same as a table for the keyboard and for ears. A place that is tapped shows what was found there.
import { useMemo, useState } from "react";
import { findingKinds } from "../../core/facts/craft.ts";
import type { FindingKind } from "../../core/facts/craft.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { dayShort } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Picker } from "../parts/picker.tsx";
import { Table } from "../parts/table.tsx";
import type { Column } from "../parts/table.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useNames, useSnapshot } from "./app-context.tsx";
import { StopDrawing } from "./finding-place.tsx";
import {
  type Filter,
  type Found,
  foundBy,
  measureText,
  partOf,
  spans,
  standsAs,
  timesSeen,
} from "./findings-view.ts";
import { useFindingsWords } from "./use-findings-words.ts";

type FoundMapProps = { readonly craft: CraftView; readonly onOpen: (found: Found) => void };

const anyKind = "any";

export function FoundMap({ craft, onOpen }: FoundMapProps) {
  const { finding: common } = useWords();
  const words = useFindingsWords();
  const { language } = useLocale();
  const { craft: fleet, now_ms } = useSnapshot();
  const names = useNames(craft);
  const [filter, setFilter] = useState<Filter>({ span: "open", kind: null, stop: null });
  const [whose, setWhose] = useState<"this" | "all">("this");
  // Of one type: machines of other types have other places.
  const machines = useMemo(
    () => (whose === "this" ? [craft] : fleet.filter(({ sheetHash }) => sheetHash === craft.sheetHash)),
    [craft, fleet, whose],
  );
  const everywhere = foundBy(machines, { ...filter, stop: null }, now_ms);
  const shown = filter.stop === null ? everywhere : foundBy(machines, filter, now_ms);
  const counts = countsBy(everywhere);
  const change = (more: Partial<Filter>) => setFilter({ ...filter, ...more });
  return (
    <section className="stack">
      <h2 className="heading-small">{words.map.heading}</h2>
      {craft.sheet !== null && (
        <StopDrawing
          sheet={craft.sheet}
          counts={onDrawing(counts, craft)}
          here={filter.stop}
          onStop={(stop) => change({ stop: stop === filter.stop ? null : stop })}
        />
      )}
      <p className="small quiet">{words.map.note}</p>
      <div className="map-filters">
        <ChoiceRow
          name={words.map.show}
          choices={spans.map((value) => ({ value, label: words.map.spans[value] }))}
          value={filter.span}
          onChoose={(span) => change({ span })}
        />
        <ChoiceRow
          name={words.map.craft}
          choices={[
            { value: "this", label: words.map.thisCraft(craft.name) },
            { value: "all", label: words.map.allCraft },
          ]}
          value={whose}
          onChoose={setWhose}
        />
        <Picker
          label={words.map.kind}
          choices={[
            { id: anyKind, name: words.map.anyKind },
            ...findingKinds.map((kind) => ({ id: kind, name: common.kind[kind] })),
          ]}
          value={filter.kind ?? anyKind}
          onChoose={(kind) => change({ kind: kind === anyKind ? null : (kind as FindingKind) })}
        />
      </div>
      {filter.stop !== null && (
        <p className="place-chosen">
          <b>{asTitle(words.map.place(names.of("stop", filter.stop)), language)}</b>
          <Button look="plain" onPress={() => change({ stop: null })}>
            {words.map.everywhere}
          </Button>
        </p>
      )}
      {shown.length === 0 ? (
        <p className="quiet">{words.map.none}</p>
      ) : (
        <FoundTable craft={craft} found={shown} isFleet={whose === "all"} onOpen={onOpen} />
      )}
    </section>
  );
}

function countsBy(found: readonly Found[]): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const { finding } of found)
    counts.set(finding.raised.stop, (counts.get(finding.raised.stop) ?? 0) + 1);
  return counts;
}

/** Places that this sheet's drawing has; what lies elsewhere stands in the table. */
function onDrawing(counts: ReadonlyMap<string, number>, { sheet }: CraftView): ReadonlyMap<string, number> {
  const known = new Set(sheet?.stops.map(({ id }) => id));
  return new Map([...counts].filter(([stop]) => known.has(stop)));
}

type FoundTableProps = FoundMapProps & { readonly found: readonly Found[]; readonly isFleet: boolean };

function FoundTable({ craft, found, isFleet, onOpen }: FoundTableProps) {
  const common = useWords();
  const words = useFindingsWords();
  const locale = useLocale();
  const names = useNames(craft);
  const { language } = locale;
  const what = ({ craft: { sheet }, finding }: Found): string => {
    const part = partOf(sheet, finding, language);
    return [common.finding.kind[finding.raised.kind], part].filter((one) => one !== null).join(", ");
  };
  const nameCell = (one: Found) => foundName(what(one), () => onOpen(one));
  const columns: readonly Column<Found>[] = [
    {
      id: "what",
      head: words.map.what,
      kind: "name",
      cell: nameCell,
    },
    ...(isFleet
      ? [{ id: "craft", head: words.map.machine, cell: ({ craft: { name } }: Found) => name }]
      : []),
    { id: "where", head: words.map.where, cell: ({ finding }) => names.of("stop", finding.raised.stop) },
    { id: "time", head: words.map.time, cell: ({ finding }) => dayShort(finding.raised.at_ms, locale) },
    {
      id: "size",
      head: words.map.size,
      cell: ({ finding: { raised, measured } }) => {
        const measure = measured.at(-1)?.measure ?? raised.measure;
        return measure === null ? "" : measureText(measure, words, language);
      },
    },
    { id: "often", head: words.map.often, cell: ({ finding }) => words.map.timesSeen(timesSeen(finding)) },
    {
      id: "ended",
      head: words.map.ended,
      cell: ({ craft: { sheet }, finding }) => standsAs(sheet, finding, words, common),
    },
  ];
  return (
    <Table
      caption={words.map.table(found.length)}
      columns={columns}
      rows={found}
      rowId={({ craft: { ledger }, finding: { finding } }) => `${ledger} ${finding}`}
    />
  );
}

/** The name of a finding, which opens it. */
function foundName(name: string, onOpen: () => void) {
  return (
    <button type="button" className="found-name" onClick={onOpen}>
      {name}
    </button>
  );
}
