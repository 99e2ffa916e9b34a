// One finding, whole: how it stands, what the sheet says of it, how it grows, everything that happened to it with who said
// it in which role, and what may be done now.
import { useState } from "react";
import type { FindingFacts } from "../../core/facts/craft.ts";
import { bandOf, unitsOf } from "../../core/finding/bands.ts";
import { hindrance } from "../../core/finding/judgement.ts";
import { type LifeLine, lifeOf } from "../../core/finding/life.ts";
import type { Damage } from "../../core/sheet/finding-blocks.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { Glyph } from "../parts/glyph.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useNames, useSnapshot } from "./app-context.tsx";
import { WhatNow } from "./finding-act.tsx";
import { GrowthOf } from "./finding-growth.tsx";
import { LeakNames } from "./finding-leak.tsx";
import { KeptPhoto } from "./finding-photos.tsx";
import { againText, measureText, partOf, sizeText, standsAs } from "./findings-view.ts";
import { useFindingsWords } from "./use-findings-words.ts";

type OneFindingProps = {
  readonly craft: CraftView;
  readonly finding: FindingFacts | null;
  readonly onClose: () => void;
};

export function OneFinding({ craft, finding, onClose }: OneFindingProps) {
  const { finding: common } = useWords();
  const names = useNames(craft);
  const title =
    finding === null
      ? common.none
      : `${common.kind[finding.raised.kind]}, ${names.of("stop", finding.raised.stop)}`;
  return (
    <Sheet title={title} open={finding !== null} onClose={onClose}>
      {finding !== null && <Inside craft={craft} finding={finding} onClose={onClose} />}
    </Sheet>
  );
}

function Inside({ craft, finding, onClose }: OneFindingProps & { readonly finding: FindingFacts }) {
  const common = useWords();
  const words = useFindingsWords();
  const { language } = useLocale();
  const [version, setVersion] = useState(0);
  const part = partOf(craft.sheet, finding, language);
  return (
    <div className="stack">
      <p>
        <b>{asTitle(standsAs(craft.sheet, finding, words, common), language)}</b>
        {part !== null && <span className="reason-detail"> {part}</span>}
      </p>
      <Photos finding={finding} />
      <Bands craft={craft} finding={finding} />
      <GrowthOf craft={craft} finding={finding} />
      {finding.raised.kind === "leak" && <LeakNames measure={finding.raised.measure} />}
      <Life craft={craft} finding={finding} />
      <WhatNow
        key={version}
        craft={craft}
        finding={finding}
        onDone={() => setVersion(version + 1)}
        onClose={onClose}
      />
    </div>
  );
}

function Photos({ finding: { raised, seenAgain, measured } }: { readonly finding: FindingFacts }) {
  const words = useFindingsWords();
  const photos = [raised, ...seenAgain, ...measured].flatMap((said) => said.photos);
  if (photos.length === 0) return null;
  return (
    <ul className="photo-row">
      {photos.map(({ hash }, index) => (
        <li key={`${hash}-${index.toString()}`}>
          <KeptPhoto hash={hash} says={words.capture.photoOf(index + 1)} />
        </li>
      ))}
    </ul>
  );
}

/** The sheet's bands for this finding, with the one that it is in. */
function Bands({ craft: { sheet }, finding }: { readonly craft: CraftView; readonly finding: FindingFacts }) {
  const words = useFindingsWords();
  const found = bandOf(sheet, finding);
  return (
    <section>
      <h3 className="heading-small">{words.bands.heading}</h3>
      {found.kind === "none" ? (
        <p className="small quiet">{words.bands.none}</p>
      ) : (
        <>
          {found.kind === "notMeasured" && <p className="small">{words.bands.notMeasured}</p>}
          <BandRows damage={found.damage} here={found.kind === "band" ? found.index : null} />
        </>
      )}
    </section>
  );
}

function BandRows({ damage, here }: { readonly damage: Damage; readonly here: number | null }) {
  const words = useFindingsWords();
  const { finding: common } = useWords();
  const { language } = useLocale();
  const unit = unitsOf(damage.measure)[0] ?? "count";
  const sizeOf = ({ upTo, closed = false }: Damage["bands"][number]): string => {
    if (damage.measure === "any") return words.bands.whatever;
    if (upTo === undefined) return words.bands.beyond;
    const size = sizeText(upTo, unit, words, language);
    return closed ? words.bands.upTo(size) : words.bands.under(size);
  };
  return (
    <table className="table bands">
      <thead>
        <tr>
          <th scope="col">{words.bands.size}</th>
          <th scope="col">{words.bands.outcome}</th>
          <th scope="col">{words.bands.who}</th>
        </tr>
      </thead>
      <tbody>
        {damage.bands.map((band, index) => {
          const { measureAgain_days: days = null, measureAgain_h: flight_h = null } = band;
          const again =
            days === null && flight_h === null ? null : againText({ days, flight_h }, words, language);
          return (
            <tr key={index.toString()} data-here={index === here || undefined}>
              <th scope="row">
                {index === here && <Glyph name="finding" />} {sizeOf(band)}
                {index === here && <span className="reason-detail"> {words.bands.here}</span>}
              </th>
              <td>
                {common.outcome[band.outcome]}
                {band.note !== undefined && <span className="reason-detail"> {band.note[language]}</span>}
                {again !== null && <span className="reason-detail"> {words.bands.again(again)}</span>}
              </td>
              <td>{band.outcome === "ground" ? words.bands.everybody : words.bands.by[band.by]}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

function Life({ craft, finding }: { readonly craft: CraftView; readonly finding: FindingFacts }) {
  const words = useFindingsWords();
  const locale = useLocale();
  const { now_ms, people } = useSnapshot();
  const names = useNames(craft);
  const { raised } = finding;
  const roleOf = ({ by, role }: LifeLine): string => {
    const held = role ?? people.find(({ id }) => id === by)?.roles[0] ?? "";
    return words.roles[held as keyof typeof words.roles] ?? held;
  };
  const time = (at_ms: number) => timeSeenFrom(now_ms, at_ms, locale);
  return (
    <section>
      <h3 className="heading-small">{words.life.heading}</h3>
      <ol className="rows life">
        {lifeOf(finding).map((line) => {
          const role = roleOf(line);
          const person = names.person(line.by);
          const details = [
            ...(line.what === "raised" && raised.measure !== null
              ? [words.life.size(measureText(raised.measure, words, locale.language))]
              : []),
            ...(line.what === "raised" && raised.seenOn !== null
              ? [words.life.seenOn(time(raised.seenOn.at_ms), raised.seenOn.typed)]
              : []),
            ...(line.words === "" ? [] : [line.words]),
            ...(counts(craft, finding, line) ? [] : [words.life.doesNotCount]),
          ];
          return (
            <li key={line.entry}>
              <LineTitle craft={craft} finding={finding} line={line} />
              <span className="reason-detail">
                {" "}
                {time(line.at_ms)}, {role === "" ? person : words.life.who(person, role)}
                {details.length > 0 && `: ${details.join("; ")}`}
              </span>
            </li>
          );
        })}
      </ol>
    </section>
  );
}

/** Whether a judgement counts by the sheet; everything else does. */
function counts({ sheet }: CraftView, finding: FindingFacts, line: LifeLine): boolean {
  if (line.what !== "judged") return true;
  const role =
    line.role === "pilot" || line.role === "engineer" || line.role === "airworthiness"
      ? line.role
      : "crewMember";
  return hindrance(sheet, finding, role, line.outcome, line.deferral) === null;
}

function LineTitle({
  craft,
  finding,
  line,
}: {
  readonly craft: CraftView;
  readonly finding: FindingFacts;
  readonly line: LifeLine;
}) {
  const words = useFindingsWords();
  const { finding: common } = useWords();
  const { language } = useLocale();
  const names = useNames(craft);
  switch (line.what) {
    case "measured": {
      const taken = finding.measured.find(({ entry }) => entry === line.entry);
      const size = taken === undefined ? line.typed : measureText(taken.measure, words, language);
      return line.hours_h === null
        ? words.life.measured(size)
        : words.life.measuredAt(size, line.hours_h.toFixed(1));
    }
    case "judged": {
      const outcome = common.outcome[line.outcome];
      const number = craft.sheet?.deferrals.find(({ id }) => id === line.deferral)?.number;
      const to =
        line.deferral === null ? "" : ` (${number ?? line.deferral}, ${names.of("deferral", line.deferral)})`;
      return words.life.judged(`${outcome}${to}`);
    }
    case "released":
      return line.licence === null ? words.life.released : words.life.releasedBy(line.licence);
    case "referenced":
      return words.life.referenced(words.reference[line.kind as keyof typeof words.reference], line.number);
    default:
      return words.life[line.what];
  }
}
