// What may be done with a finding now, by the role of whoever holds the device: one action at a time. What another role
// does is shown and says whose it is.
import { useState } from "react";
import { referenceKinds } from "../../core/facts/craft.ts";
import type { FindingFacts, ForeignReference, PhotoRef } from "../../core/facts/craft.ts";
import { damageOf, unitsOf } from "../../core/finding/bands.ts";
import type { MeasureUnit } from "../../core/finding/bands.ts";
import { isClosed, isUnreleased, mayClose } from "../../core/finding/judgement.ts";
import { readMeasure } from "../../core/finding/typed-measure.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useSnapshot } from "./app-context.tsx";
import { Judge } from "./finding-judge.tsx";
import { PhotosTaken } from "./finding-photos.tsx";
import { SizeField } from "./finding-size.tsx";
import { judgingRole } from "./findings-view.ts";
import { Signature } from "./signature.tsx";
import { useFindingsWords } from "./use-findings-words.ts";

export type ActProps = {
  readonly craft: CraftView;
  readonly finding: FindingFacts;
  readonly onDone: () => void;
  readonly onClose: () => void;
};

const actions = ["judge", "measure", "plan", "fix", "release", "close", "refer", "reopen"] as const;
type Action = (typeof actions)[number];

export function WhatNow(props: ActProps) {
  const words = useFindingsWords();
  const { me } = useSnapshot();
  const { craft, finding } = props;
  const [action, setAction] = useState<Action | null>(null);
  const role = judgingRole(me);
  const closed = isClosed(craft.sheet, finding);
  const open = actions.filter((one) => (closed ? one === "reopen" || one === "refer" : one !== "reopen"));
  const isEngineer = me?.roles.includes("engineer") === true;
  const why: Partial<Record<Action, string>> = {
    ...(isEngineer
      ? {}
      : { fix: words.act.notYours(words.roles.engineer), release: words.act.notYours(words.roles.engineer) }),
    ...(role === "engineer" || role === "airworthiness"
      ? {}
      : { plan: words.act.notYours(words.roles.engineer) }),
    ...(mayClose(craft.sheet, finding, role)
      ? {}
      : { close: isUnreleased(finding) ? words.act.unreleased : words.act.notYours(words.roles.engineer) }),
  };
  return (
    <section className="stack">
      <ChoiceRow
        name={words.act.heading}
        width="even"
        choices={open.map((value) => ({
          value,
          label: words.act[value],
          disabled: why[value] !== undefined,
          ...(why[value] === undefined ? {} : { note: why[value] }),
        }))}
        value={action}
        onChoose={setAction}
      />
      {action === "judge" && <Judge {...props} role={role} />}
      {action === "measure" && <Measure {...props} />}
      {action === "refer" && <Refer {...props} />}
      {(action === "plan" || action === "fix" || action === "release") && (
        <Step {...props} step={action} key={action} />
      )}
      {(action === "close" || action === "reopen") && <End {...props} end={action} key={action} />}
    </section>
  );
}

function Measure({ craft, finding, onDone }: ActProps) {
  const { device } = useApp();
  const { finding: common } = useWords();
  const words = useFindingsWords();
  const { language } = useLocale();
  const [size, setSize] = useState("");
  const [unit, setUnit] = useState<MeasureUnit | null>(null);
  const [photos, setPhotos] = useState<readonly PhotoRef[]>([]);
  const [said, setSaid] = useState("");
  const limit = damageOf(craft.sheet, finding);
  const read = readMeasure(size, language, limit === null ? [] : unitsOf(limit.measure), unit);
  const save = async () => {
    if (read.kind !== "measure") return;
    await device.measureFinding(craft.ledger, finding.finding, {
      measure: read.measure,
      photos,
      words: said.trim(),
    });
    onDone();
  };
  return (
    <>
      <SizeField
        typed={size}
        unit={unit}
        limit={limit}
        isLeak={false}
        onTyped={(text) => {
          setSize(text);
          setUnit(null);
        }}
        onUnit={setUnit}
      />
      <PhotosTaken photos={photos} onPhotos={setPhotos} />
      <Field label={common.words} value={said} onChange={setSaid} lines="many" />
      <Button
        look="filled"
        onPress={() => void save()}
        {...(read.kind === "measure" ? {} : { why: words.act.needsSize })}
      >
        {words.act.record}
      </Button>
    </>
  );
}

function Refer({ craft, finding, onDone }: ActProps) {
  const { device } = useApp();
  const words = useFindingsWords();
  const [kind, setKind] = useState<ForeignReference["kind"]>("logPage");
  const [number, setNumber] = useState("");
  const save = () =>
    void device.referFinding(craft.ledger, finding.finding, kind, number.trim()).then(onDone);
  return (
    <>
      <ChoiceRow
        name={words.act.kind}
        choices={referenceKinds.map((value) => ({ value, label: words.reference[value] }))}
        value={kind}
        onChoose={setKind}
        width="long"
      />
      <Field label={words.act.number} value={number} onChange={setNumber} />
      <Button look="filled" onPress={save} {...(number.trim() === "" ? { why: words.act.needsNumber } : {})}>
        {words.act.record}
      </Button>
    </>
  );
}

/** Work is planned, done and released in an engineer's words; a release is signed with the PIN. */
function Step({ craft, finding, step, onDone }: ActProps & { readonly step: "plan" | "fix" | "release" }) {
  const { device } = useApp();
  const words = useFindingsWords();
  const [said, setSaid] = useState("");
  const [licence, setLicence] = useState("");
  const [signing, setSigning] = useState(false);
  const isRelease = step === "release";
  const missing =
    said.trim() === ""
      ? words.act.needsWords
      : isRelease && licence.trim() === ""
        ? words.act.needsLicence
        : null;
  const save = () =>
    void device
      .stepFinding(craft.ledger, finding.finding, step, said.trim(), isRelease ? licence.trim() : null)
      .then(onDone);
  return (
    <>
      <Field label={words.act.words} value={said} onChange={setSaid} lines="many" />
      {isRelease && <Field label={words.act.licence} value={licence} onChange={setLicence} />}
      <Button
        look="filled"
        onPress={isRelease ? () => setSigning(true) : save}
        {...(missing === null ? {} : { why: missing })}
      >
        {isRelease ? words.act.release : words.act.record}
      </Button>
      <Signature title={words.act.release} open={signing} onClose={() => setSigning(false)} onSigned={save} />
    </>
  );
}

function End({ craft, finding, end, onDone, onClose }: ActProps & { readonly end: "close" | "reopen" }) {
  const { device } = useApp();
  const words = useFindingsWords();
  const { me } = useSnapshot();
  const [said, setSaid] = useState("");
  const save = async () => {
    if (end === "close")
      await device.closeFinding(craft.ledger, finding.finding, judgingRole(me), said.trim());
    else await device.reopenFinding(craft.ledger, finding.finding, said.trim());
    onDone();
    if (end === "close") onClose();
  };
  return (
    <>
      <Field label={words.act.words} value={said} onChange={setSaid} lines="many" />
      <Button
        look="filled"
        onPress={() => void save()}
        {...(said.trim() === "" ? { why: words.act.needsWords } : {})}
      >
        {words.act[end]}
      </Button>
    </>
  );
}
