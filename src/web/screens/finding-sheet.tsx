// A finding, raised where one stands, in three taps: finding, what kind, record. How much and one's own words may follow
// below; nothing but "something else" needs them. Or: the item was not reached, and why.
import { useState } from "react";
import type { FindingKind } from "../../core/facts/craft.ts";
import { findingKinds } from "../../core/facts/craft.ts";
import { readTypedNumber } from "../../present/typed-number.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Picker } from "../parts/picker.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames } from "./app-context.tsx";

export type FindingPlace = {
  readonly stop: string | null;
  readonly item: string | null;
  readonly walk: string | null;
};

type FindingSheetProps = {
  readonly craft: CraftView;
  readonly at: FindingPlace;
  readonly open: boolean;
  readonly onClose: () => void;
  readonly onDone: () => void;
};

export function FindingSheet(props: FindingSheetProps) {
  const { walk, screens } = useWords();
  const { craft, at } = props;
  const names = useNames(craft);
  const title = at.stop === null ? screens.findings.raise : names.of("stop", at.stop);
  return (
    <Sheet title={`${walk.doing.finding}: ${title}`} open={props.open} onClose={props.onClose}>
      {props.open && <FindingInside {...props} />}
    </Sheet>
  );
}

const usualKinds: readonly FindingKind[] = findingKinds.filter((kind) => kind !== "outOfBand");
const units = ["mm", "cm", "cm2", "L", "bar", "count"] as const;

function FindingInside({ craft, at, onClose, onDone }: FindingSheetProps) {
  const { device } = useApp();
  const { walk, finding: words, screens } = useWords();
  const { language } = useLocale();
  const names = useNames(craft);
  const [what, setWhat] = useState<"finding" | "notReached">("finding");
  const [kind, setKind] = useState<FindingKind | null>(null);
  const [stop, setStop] = useState<string | null>(at.stop);
  const [size, setSize] = useState("");
  const [unit, setUnit] = useState<string>("mm");
  const [said, setSaid] = useState("");
  const measured = readTypedNumber(size, { decimals: 2, lowest: 0 }, language);

  const missing =
    what === "notReached"
      ? said.trim() === ""
        ? screens.findings.needsWords
        : null
      : stop === null
        ? screens.findings.needsPlace
        : kind === null
          ? screens.findings.needsKind
          : kind === "other" && said.trim() === ""
            ? screens.findings.needsWords
            : measured.issue !== null
              ? screens.findings.measure
              : null;

  const save = async () => {
    if (what === "notReached" && at.item !== null) {
      await device.markItem(craft.ledger, at.item, { mark: "notReached", why: said.trim(), finding: null });
    } else if (kind !== null && stop !== null) {
      const measure = measured.value === null ? null : { value: measured.value, unit, typed: size };
      const raised = await device.raiseFinding(craft.ledger, {
        kind,
        stop,
        item: at.item,
        walk: at.walk,
        measure,
        words: said.trim(),
      });
      if (at.item !== null)
        await device.markItem(craft.ledger, at.item, { mark: "finding", why: null, finding: raised });
    }
    onClose();
    onDone();
  };

  return (
    <div className="stack">
      {at.item !== null && (
        <ChoiceRow
          name={screens.walk.somethingElse}
          nameHidden
          choices={[
            { value: "finding", label: walk.doing.finding },
            { value: "notReached", label: walk.doing.notReached },
          ]}
          value={what}
          onChoose={setWhat}
        />
      )}
      {what === "finding" && (
        <>
          {at.stop === null && craft.sheet !== null && (
            <Picker
              label={words.where}
              choices={craft.sheet.stops.map(({ id }) => ({ id, name: names.title("stop", id) }))}
              value={stop}
              onChoose={setStop}
            />
          )}
          <ChoiceRow
            name={words.what}
            choices={usualKinds.map((value) => ({ value, label: words.kind[value] }))}
            value={kind}
            onChoose={setKind}
            width="even"
          />
          <div className="finding-size">
            <Field label={screens.findings.measure} value={size} onChange={setSize} inputMode="decimal" />
            <Picker
              label={screens.findings.unit}
              choices={units.map((id) => ({ id, name: id === "cm2" ? "cm²" : id }))}
              value={unit}
              onChoose={setUnit}
            />
          </div>
        </>
      )}
      <Field
        label={what === "finding" ? words.words : screens.walk.whyNotReached}
        value={said}
        onChange={setSaid}
        lines="many"
      />
      <div className="sheet-foot">
        <Button look="filled" onPress={() => void save()} {...(missing === null ? {} : { why: missing })}>
          {what === "finding" ? screens.findings.save : walk.doing.notReached}
        </Button>
      </div>
    </div>
  );
}
