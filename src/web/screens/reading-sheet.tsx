// A reading on a walk: kept letter for letter. What is outside its limits is kept as read and becomes a finding.
import type { Gauge } from "../../core/sheet/gauge-blocks.ts";
import type { Item } from "../../core/sheet/walk-blocks.ts";
import { asTitle } from "../../present/sentence-case.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames } from "./app-context.tsx";
import { unitOf, useReadingEntry } from "./levels-reading.tsx";

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
  const words = useWords();
  const { language } = useLocale();
  const names = useNames(craft);
  const { fields, reading, why, isOutside } = useReadingEntry(craft, gauge, item.text[language]);
  const take = async () => {
    if (reading === null) return;
    await device.read(craft.ledger, gauge.id, reading);
    if (isOutside && gauge.ifOutside !== "note") {
      const { value, unit, typed } = reading;
      const finding = await device.raiseFinding(craft.ledger, {
        kind: "outOfBand",
        stop: item.stop,
        item: item.id,
        walk,
        measure: { value, unit, typed },
        words: `${names.title("gauge", gauge.id)}: ${typed} ${unitOf(unit, words)}`,
      });
      await device.markItem(craft.ledger, item.id, { mark: "finding", why: null, finding });
    } else await device.markItem(craft.ledger, item.id, { mark: "good", why: null, finding: null });
    onClose();
    onDone();
  };
  return (
    <div className="stack">
      {fields}
      <Button look="filled" onPress={() => void take()} {...(why === null ? {} : { why })}>
        {words.screens.walk.takeReading}
      </Button>
    </div>
  );
}
