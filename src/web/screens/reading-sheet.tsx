// A reading: never prefilled, typed or stepped, kept letter for letter. What is outside its limits is kept as read and
// becomes a finding; what could be read in two ways is asked about.
import { useState } from "react";
import type { Gauge } from "../../core/sheet/gauge-blocks.ts";
import type { Item } from "../../core/sheet/walk-blocks.ts";
import { readingVerdict } from "../../core/level/reading-verdict.ts";
import { latestReadings } from "../../core/level/assess.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { readTypedNumber } from "../../present/typed-number.ts";
import type { Scale, TypedNumber } from "../../present/typed-number.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { Locale } from "../../present/words/language.ts";
import { wordsIn } from "../../present/words/words.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { Stepper } from "../parts/stepper.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";

const airScale: Scale = { decimals: 1, lowest: -60, highest: 60 };

/** Decimals that the gauge's own step has. */
function decimalsOf({ step }: Gauge): number {
  return Math.max(0, (String(step).split(".")[1] ?? "").length);
}

function bandWords({ low, high, unit, band }: Gauge, locale: Locale): string {
  const { walk } = wordsIn(locale.language).screens;
  if (band !== undefined || (low === undefined && high === undefined)) return "";
  const decimals = (value: number) => (String(value).split(".")[1] ?? "").length;
  const amount = (value: number) =>
    `${displayNumber(value, decimals(value), "both", locale.language)} ${unit}`;
  if (low === undefined) return walk.atMost(amount(high?.value ?? 0));
  return high === undefined
    ? walk.atLeast(amount(low.value))
    : walk.band(amount(low.value), amount(high.value));
}

type ReadingSheetProps = {
  readonly craft: CraftView;
  readonly item: Item;
  readonly walk: string;
  readonly open: boolean;
  readonly onClose: () => void;
  readonly onDone: () => void;
};

export function ReadingSheet(props: ReadingSheetProps) {
  const { language } = useLocale();
  const gauge = props.craft.sheet?.gauges.find(({ id }) => id === props.item.reads);
  if (gauge === undefined) return null;
  return (
    <Sheet title={asTitle(gauge.name[language], language)} open={props.open} onClose={props.onClose}>
      <ReadingInside {...props} gauge={gauge} key={gauge.id} />
    </Sheet>
  );
}

function ReadingInside({
  craft,
  item,
  walk,
  gauge,
  onClose,
  onDone,
}: ReadingSheetProps & { readonly gauge: Gauge }) {
  const { device } = useApp();
  const { now_ms } = useSnapshot();
  const { screens, units } = useWords();
  const locale = useLocale();
  const names = useNames(craft);
  const [typed, setTyped] = useState("");
  const [air, setAir] = useState("");
  const [bottle, setBottle] = useState("");
  const scale: Scale = {
    decimals: decimalsOf(gauge),
    lowest: gauge.plausible.low,
    highest: gauge.plausible.high,
  };
  const value = readTypedNumber(typed, scale, locale.language);
  const oat = readTypedNumber(air, airScale, locale.language);
  const bottled = readTypedNumber(bottle, airScale, locale.language);
  const asksAir = gauge.conditions.temperatureNeeded && gauge.gas === undefined;
  const asksBottle = gauge.gas !== undefined;
  const complete = isWhole(value) && (!asksAir || isWhole(oat)) && (!asksBottle || isWhole(bottled));
  const unit = units[gauge.unit as keyof typeof units] ?? gauge.unit;
  const [last] = latestReadings(craft.state, gauge.id);
  const verdict =
    complete && value.value !== null
      ? readingVerdict(gauge, {
          value: value.value,
          unit: gauge.unit,
          conditions: {
            ...(oat.value === null ? {} : { oat_C: oat.value }),
            ...(bottled.value === null ? {} : { bottle_C: bottled.value }),
          },
        })
      : null;
  const outside = verdict !== null && (verdict.is === "below" || verdict.is === "above");

  const take = async () => {
    if (value.value === null) return;
    const reading = {
      value: value.value,
      unit: gauge.unit,
      typed,
      oat_C: oat.value,
      bottle_C: bottled.value,
    };
    await device.read(craft.ledger, gauge.id, reading);
    if (outside && gauge.ifOutside !== "note") {
      const words = `${names.title("gauge", gauge.id)}: ${typed} ${unit}`;
      const measure = { value: value.value, unit: gauge.unit, typed };
      const finding = await device.raiseFinding(craft.ledger, {
        kind: "outOfBand",
        stop: item.stop,
        item: item.id,
        walk,
        measure,
        words,
      });
      await device.markItem(craft.ledger, item.id, { mark: "finding", why: null, finding });
    } else await device.markItem(craft.ledger, item.id, { mark: "good", why: null, finding: null });
    onClose();
    onDone();
  };
  const hint =
    value.value === null
      ? bandWords(gauge, locale)
      : last === undefined
        ? ""
        : screens.walk.lastRead(`${last.typed} ${unit}`, timeSeenFrom(now_ms, last.at_ms, locale));
  return (
    <div className="stack">
      <Stepper
        label={item.text[locale.language]}
        typed={typed}
        onTyped={setTyped}
        scale={scale}
        step={gauge.step}
        startAt={middle(gauge)}
        unit={unit}
        hint={hint}
        issue={outside ? screens.walk.outside : null}
      />
      {asksAir && (
        <Stepper
          label={screens.walk.airTemperature}
          typed={air}
          onTyped={setAir}
          scale={airScale}
          step={1}
          startAt={0}
          unit="°C"
        />
      )}
      {asksBottle && (
        <Stepper
          label={screens.walk.bottleTemperature}
          typed={bottle}
          onTyped={setBottle}
          scale={airScale}
          step={1}
          startAt={0}
          unit="°C"
        />
      )}
      <Button
        look="filled"
        onPress={() => void take()}
        {...(complete ? {} : { why: screens.walk.notYetRead })}
      >
        {screens.walk.takeReading}
      </Button>
    </div>
  );
}

function isWhole({ value, issue }: TypedNumber): boolean {
  return value !== null && issue === null;
}

/** The middle of the scale, on the gauge's own step: where the first press begins, never the last reading. */
function middle({ plausible, step }: Gauge): number {
  return Math.round((plausible.low + plausible.high) / 2 / step) * step;
}
