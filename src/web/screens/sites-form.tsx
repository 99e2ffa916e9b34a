// One site, new or as it stands: its position in any of the forms that a call takes, its sides held against the type while
// they are typed. What is kept goes into the working copy; nothing else of the file changes.
import { useState } from "react";
import type { Position } from "../../core/air/position.ts";
import type { Site, SiteKind } from "../../core/facts/site.ts";
import { siteKinds } from "../../core/facts/site.ts";
import { siteFit } from "../../core/reach/site-questions.ts";
import { withoutSite, withSite } from "../../core/reach/sites-edit.ts";
import { readTypedPlace } from "../../core/reach/typed-place.ts";
import { type Scale, typedText } from "../../present/typed-number.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { useLocale } from "../parts/words.tsx";
import { positionText } from "./call-view.ts";
import { useCallWords } from "./use-call-words.ts";
import { useNumbers } from "./use-numbers.ts";
import { useSitesWords } from "./use-sites-words.ts";

const scales = {
  elevation: { decimals: 1, lowest: -1_500, highest: 20_000 },
  width: { decimals: 1, lowest: 1, highest: 2_000 },
  length: { decimals: 1, lowest: 1, highest: 2_000 },
} as const satisfies Record<string, Scale>;

type Three = "yes" | "no" | "open";
const threeOf = (flag: boolean | null): Three => (flag === null ? "open" : flag ? "yes" : "no");
const flagOf = (three: Three): boolean | null => (three === "open" ? null : three === "yes");

/** A position as typed; what stood there before keeps its digits while nobody types over it. */
export function usePlace(before: Position | null) {
  const call = useCallWords();
  const words = useSitesWords();
  const first = before === null ? "" : positionText(before);
  const [typed, setTyped] = useState(first);
  const read = readTypedPlace(typed);
  const position = before !== null && typed === first ? before : read.is === "read" ? read.position : null;
  return {
    position,
    field: (
      <Field
        label={words.form.position}
        value={typed}
        onChange={setTyped}
        hint={read.is === "read" ? words.form.read(positionText(read.position)) : words.form.positionHint}
        issue={read.is === "notRead" && typed.trim() !== "" ? call.notRead[read.why] : null}
      />
    ),
  };
}

type SiteFormProps = {
  readonly site: Site | null;
  readonly file: unknown;
  readonly taken: readonly string[];
  readonly d_m: number | null;
  readonly may: boolean;
  readonly onKeep: (file: unknown) => void;
};

export function SiteForm({ site, file, taken, d_m, may, onKeep }: SiteFormProps) {
  const words = useSitesWords();
  const { form } = words;
  const { language } = useLocale();
  const [name, setName] = useState(site?.name ?? "");
  const [kind, setKind] = useState<SiteKind | null>(site?.kind ?? null);
  const place = usePlace(site);
  const text = (value: number | null | undefined): string =>
    value == null ? "" : typedText(value, Number.isInteger(value) ? 0 : 1, language);
  const first = {
    elevation: text(site?.elevation_ft),
    width: text(site?.width_m),
    length: text(site?.length_m),
  };
  const number = useNumbers(scales, first);
  const [lit, setLit] = useState<Three>(threeOf(site?.lit ?? null));
  const [fuel, setFuel] = useState<Three>(threeOf(site?.fuel ?? null));
  const [notes, setNotes] = useState(site?.notes ?? "");
  // As it stood where nobody typed over it, so that no digit is lost by being shown.
  const value = (key: keyof typeof scales, stood: number | null | undefined): number | null =>
    number.text(key) === first[key] ? (stood ?? null) : number.value(key);
  const elevation_ft = value("elevation", site?.elevation_ft);
  const width_m = value("width", site?.width_m);
  const length_m = value("length", site?.length_m) ?? width_m;
  const isUnread = (["elevation", "width", "length"] as const).some(
    (key) => number.text(key).trim() !== "" && number.value(key) === null,
  );
  const missing: readonly (readonly [boolean, string])[] = [
    [!may, words.needsRole],
    [name.trim() === "", form.needs.name],
    [kind === null, form.needs.kind],
    [place.position === null, form.needs.position],
    [isUnread, form.needs.number],
    [width_m === null && length_m !== null, form.needs.length],
    [width_m !== null && length_m !== null && length_m < width_m, form.needs.sides],
  ];
  const why = missing.find(([isMissing]) => isMissing)?.[1] ?? null;
  const keep = () => {
    if (why !== null || kind === null || place.position === null) return;
    const { lat_deg, lon_deg } = place.position;
    const id = site?.id ?? freeId(name, kind, taken);
    const said = { id, name: name.trim(), kind, lat_deg, lon_deg, elevation_ft, width_m, length_m };
    onKeep(withSite(file, { ...said, lit: flagOf(lit), fuel: flagOf(fuel), notes: notes.trim() }));
  };
  const line = (key: keyof typeof scales, label: string, hint: string) => (
    <Field
      label={label}
      value={number.text(key)}
      onChange={number.set(key)}
      inputMode="decimal"
      hint={hint}
    />
  );
  const three = (label: string, now: Three, set: (next: Three) => void) => (
    <ChoiceRow
      name={label}
      choices={(["yes", "no", "open"] as const).map((one) => ({ value: one, label: form.choices[one] }))}
      value={now}
      onChoose={set}
    />
  );
  return (
    <div className="stack">
      <Field label={form.name} value={name} onChange={setName} />
      <ChoiceRow
        name={form.kind}
        choices={siteKinds.map((one) => ({ value: one, label: words.kind[one] }))}
        value={kind}
        onChoose={setKind}
      />
      {place.field}
      {line("elevation", form.elevation, form.openHint)}
      {line("width", form.width, form.openHint)}
      {line("length", form.length, form.lengthHint)}
      {kind !== null && <output>{words.fits[siteFit({ kind, width_m, length_m }, d_m)]}</output>}
      {three(form.lit, lit, setLit)}
      {three(form.fuel, fuel, setFuel)}
      <Field label={form.notes} value={notes} onChange={setNotes} lines="many" />
      <div className="sheet-foot">
        <Button look="filled" onPress={keep} {...(why === null ? {} : { why })}>
          {form.keep}
        </Button>
      </div>
      {site !== null && may && (
        <Button look="plain" onPress={() => onKeep(withoutSite(file, site.id))}>
          {form.remove}
        </Button>
      )}
    </div>
  );
}

/** An id that no site has: its kind, and letters and digits of its name. */
function freeId(name: string, kind: SiteKind, taken: readonly string[]): string {
  const plain = name.normalize("NFKD").replaceAll(/[^A-Za-z0-9]/gu, "");
  const stem = `${kind === "hospital" ? "hospital" : kind === "base" ? "base" : "site"}${plain}`.slice(0, 56);
  for (let count = 1; ; count += 1) {
    const id = count === 1 ? stem : `${stem}-${count}`;
    if (!taken.includes(id)) return id;
  }
}
