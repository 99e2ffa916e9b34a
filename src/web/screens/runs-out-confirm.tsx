// The procedures of a deferral are confirmed: what the crew did, and what an engineer did, with page and work order.
import { useState } from "react";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp } from "./app-context.tsx";

/** Which deferral of which finding. */
export type Confirmed = { readonly finding: string; readonly deferral: string };

type ConfirmProps = {
  readonly craft: CraftView;
  readonly of: Confirmed | null;
  readonly onClose: () => void;
};

export function ConfirmSheet({ craft, of, onClose }: ConfirmProps) {
  const { duty } = useWords();
  return (
    <Sheet title={duty.runsOut.confirm} open={of !== null} onClose={onClose}>
      {of !== null && <ConfirmForm craft={craft} of={of} onClose={onClose} />}
    </Sheet>
  );
}

function ConfirmForm({ craft, of, onClose }: ConfirmProps & { readonly of: Confirmed }) {
  const { device } = useApp();
  const { duty } = useWords();
  const { language } = useLocale();
  const words = duty.runsOut;
  const [operational, setOperational] = useState<"yes" | "no" | null>(null);
  const [licence, setLicence] = useState("");
  const [logPage, setLogPage] = useState("");
  const [workOrder, setWorkOrder] = useState("");
  const listed = craft.sheet?.deferrals.find(({ id }) => id === of.deferral);
  const engineer = licence.trim() === "" ? null : licence.trim();
  const done = operational === "yes" || engineer !== null;
  const save = () =>
    device
      .confirmDeferral(craft.ledger, of.finding, {
        operational: operational === "yes",
        maintenance: engineer,
        logPage,
        workOrder,
      })
      .then(onClose);
  return (
    <>
      {listed?.operational !== undefined && (
        <>
          <p>{listed.operational[language]}</p>
          <ChoiceRow
            name={words.operational}
            choices={[
              { value: "yes", label: words.yes },
              { value: "no", label: words.no },
            ]}
            value={operational}
            onChoose={setOperational}
          />
        </>
      )}
      {listed?.maintenance !== undefined && (
        <>
          <p>{listed.maintenance[language]}</p>
          <Field label={words.licence} hint={words.maintenance} value={licence} onChange={setLicence} />
        </>
      )}
      <Field label={words.logPage} value={logPage} onChange={setLogPage} />
      <Field label={words.workOrder} value={workOrder} onChange={setWorkOrder} />
      <div className="sheet-foot">
        <Button look="filled" onPress={() => void save()} {...(done ? {} : { why: words.nothingConfirmed })}>
          {words.save}
        </Button>
      </div>
    </>
  );
}
