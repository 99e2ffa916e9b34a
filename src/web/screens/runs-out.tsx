// What runs out on one machine: maintenance, parts, obligations and deferrals on one axis, what ends first on top.
import { useId, useState } from "react";
import { runsOut } from "../../core/due/runs-out.ts";
import type { RunsOut } from "../../core/due/runs-out.ts";
import { dateAt } from "../../core/facts/calendar.ts";
import type { Reason } from "../../core/facts/reason.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import type { Names } from "../../present/names.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { dateLong } from "../../present/words/formats.ts";
import type { Locale } from "../../present/words/language.ts";
import type { Words } from "../../present/words/words.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { Empty } from "../parts/whole-screen.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { Frame } from "./frame.tsx";
import { matterName } from "./matter-name.ts";

const axis_d = 60;
const day_ms = 86_400_000;

type Line = {
  readonly key: string;
  readonly name: string;
  readonly detail: readonly string[];
  /** Share of the axis until it ends; null where the end is not known. */
  readonly ends_ms: number | null;
  readonly confirms: { readonly finding: string; readonly deferral: string } | null;
};

export function RunsOutScreen({ craft }: { readonly craft: CraftView }) {
  const { app, duty } = useWords();
  const words = duty.runsOut;
  const { now_ms, zone } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  const { goTo } = useApp();
  const name = craft.ledger.replace("craft:", "");
  const [confirming, setConfirming] = useState<Line["confirms"]>(null);
  const due = craft.sheet === null ? [] : runsOut(craft.sheet, craft.state, now_ms, zone);
  const lines = [
    ...due.map((row) => dueLine(row, { names, words, locale, now_ms })),
    ...deferralLines(craft.standing.reasons, { names, words, locale, now_ms }),
  ].toSorted((a, b) => (a.ends_ms ?? -Infinity) - (b.ends_ms ?? -Infinity));
  return (
    <Frame
      craft={craft}
      name={`${craft.name} · ${app.screens.runsOut}`}
      nameAs="h1"
      foot={
        <TwoButtons
          right={{ children: app.screens.flights, onPress: () => goTo({ screen: "flights", craft: name }) }}
        />
      }
    >
      {lines.length === 0 ? (
        <Empty title={words.none}>{words.noneBody}</Empty>
      ) : (
        <section className="stack">
          <h2 className="heading-small">
            {words.first}, {words.axis(String(axis_d))}
          </h2>
          <ul className="rows">
            {lines.map((line) => (
              <li key={line.key} className="ends-row">
                <div>
                  <b>{line.name}</b>
                  <p className="small quiet">{line.detail.join("; ")}</p>
                  {line.confirms !== null && (
                    <Button onPress={() => setConfirming(line.confirms)}>{words.confirm}</Button>
                  )}
                </div>
                <EndsBar ends_ms={line.ends_ms} now_ms={now_ms} />
              </li>
            ))}
          </ul>
        </section>
      )}
      <ConfirmSheet craft={craft} of={confirming} onClose={() => setConfirming(null)} />
    </Frame>
  );
}

type Telling = {
  readonly names: Names;
  readonly words: Words["duty"]["runsOut"];
  readonly locale: Locale;
  readonly now_ms: number;
};

function dueLine(row: RunsOut, { names, words, locale, now_ms }: Telling): Line {
  const dateIn = (days: number): string => dateLong(dateAt(now_ms + days * day_ms, locale.zone), locale);
  const left = row.left.map(({ name, left: value }) =>
    value === null
      ? words.counterNotKnown
      : words.left[name](displayNumber(value, Number.isInteger(value) ? 0 : 1, "lower", locale.language)),
  );
  const { forecast, lastDay } = row;
  const detail = [
    ...(row.known ? [] : [words.notKnown]),
    ...left,
    ...(lastDay === null ? [] : [words.lastDay(dateLong(lastDay, locale))]),
    ...(forecast === null || forecast.late_d > 3650
      ? []
      : [words.forecast(dateIn(forecast.expected_d), dateIn(forecast.early_d), dateIn(forecast.late_d))]),
  ];
  return {
    key: row.key,
    name: asTitle(matterName(row.facts, names), locale.language),
    detail,
    ends_ms: row.ends_ms,
    confirms: null,
  };
}

/** Deferrals, from the reasons that they give: what the standing says and what stands here are the same. */
function deferralLines(reasons: readonly Reason[], { names, words, locale }: Telling): Line[] {
  return reasons
    .filter(({ code }) => code === "finding.deferred")
    .map(({ facts, until_ms, source }) => {
      const [finding, deferral] = [String(facts["finding"]), String(facts["deferral"])];
      const { lastDay } = facts;
      const cite = "cite" in source ? source.cite : null;
      const isOpen = reasons.some(
        (one) => one.code === "finding.deferralUnconfirmed" && one.facts["finding"] === finding,
      );
      const date = typeof lastDay === "string" ? dateLong(lastDay, locale) : null;
      return {
        key: `deferral#${finding}`,
        name: words.deferral(names.title("deferral", deferral)),
        detail: [
          String(facts["number"]),
          ...(date === null ? [] : [cite === null ? words.lastDay(date) : words.lastDayBy(date, cite)]),
          ...(facts["extended"] === true ? [words.extended] : []),
        ],
        ends_ms: until_ms,
        confirms: isOpen ? { finding, deferral } : null,
      };
    });
}

/** A line as long as it holds, hatched from where it ends; hatched throughout where that is not known. */
function EndsBar({ ends_ms, now_ms }: { readonly ends_ms: number | null; readonly now_ms: number }) {
  const id = useId();
  const until = ends_ms === null ? 0 : Math.min(1, Math.max(0, (ends_ms - now_ms) / (axis_d * day_ms)));
  const x = 300 * until;
  return (
    <svg className="ends-bar" viewBox="0 0 300 14" preserveAspectRatio="none" aria-hidden="true">
      <defs>
        <pattern id={id} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path d="M0 0V6" className="ends-hatch" />
        </pattern>
      </defs>
      <rect x="0" y="5" width={x} height="4" className="ends-holds" />
      <rect x={x} y="0" width={300 - x} height="14" fill={`url(#${id})`} />
    </svg>
  );
}

type ConfirmProps = {
  readonly craft: CraftView;
  readonly of: Line["confirms"];
  readonly onClose: () => void;
};

function ConfirmSheet({ craft, of, onClose }: ConfirmProps) {
  const { duty } = useWords();
  return (
    <Sheet title={duty.runsOut.confirm} open={of !== null} onClose={onClose}>
      {of !== null && <ConfirmForm craft={craft} of={of} onClose={onClose} />}
    </Sheet>
  );
}

function ConfirmForm({ craft, of, onClose }: ConfirmProps & { readonly of: NonNullable<Line["confirms"]> }) {
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
