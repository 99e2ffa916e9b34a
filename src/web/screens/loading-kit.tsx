// Kit by the sheet's lists: which list the load follows, how it differs from it, and loading all of it at once.
import { useMemo } from "react";
import { checkKit, type ConfigurationCheck, type KitItem } from "../../core/load/configuration.ts";
import { Refusal } from "../../core/quantity/refusal.ts";
import type { KitList } from "../../core/sheet/loading-blocks.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { useLocale } from "../parts/words.tsx";
import type { LoadDraft } from "./loading-view.ts";
import type { MassWords } from "./mass-unit.ts";
import { useLoadingWords } from "./use-loading-words.ts";

type KitListsProps = {
  readonly sheet: Sheet;
  readonly draft: LoadDraft;
  readonly mass: MassWords;
  readonly onDraft: (draft: LoadDraft) => void;
};

export function KitLists({ sheet, draft, mass, onDraft }: KitListsProps) {
  const { kitLists: words } = useLoadingWords();
  const { language } = useLocale();
  const list = sheet.kitLists.find(({ id }) => id === draft.kitList) ?? null;
  const check = useMemo(
    () => (list === null ? null : checked(sheet, list, draft.kit)),
    [sheet, list, draft.kit],
  );
  if (sheet.kitLists.length === 0) return null;
  const none = "";
  return (
    <section className="stack">
      <h2 className="heading-small">{words.name}</h2>
      <ChoiceRow
        name={words.name}
        nameHidden
        width="even"
        choices={[
          ...sheet.kitLists.map(({ id, name }) => ({ value: id, label: asTitle(name[language], language) })),
          { value: none, label: words.none },
        ]}
        value={draft.kitList ?? none}
        onChoose={(value) => onDraft({ ...draft, kitList: value === none ? null : value })}
      />
      {list !== null && check !== null && (
        <>
          <Differences sheet={sheet} list={list} check={check} draft={draft} mass={mass} />
          {!check.isAsListed && (
            <Button onPress={() => onDraft({ ...draft, kit: asListed(list, language) })}>{words.load}</Button>
          )}
        </>
      )}
    </section>
  );
}

/** Null where the load cannot be compared; the answer above says why. */
function checked(sheet: Sheet, list: KitList, kit: LoadDraft["kit"]): ConfigurationCheck | null {
  try {
    return checkKit(sheet, list, kit);
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}

function asListed({ kit }: KitList, language: "en" | "de"): LoadDraft["kit"] {
  return kit.map(({ name, ...thing }) => ({ ...thing, name: name[language] }));
}

type DifferencesProps = Omit<KitListsProps, "onDraft"> & {
  readonly list: KitList;
  readonly check: ConfigurationCheck;
};

function Differences({ sheet, list, check, draft, mass }: DifferencesProps) {
  const { kitLists: words } = useLoadingWords();
  const { language } = useLocale();
  const nameOf = ({ id }: KitItem) => {
    const listed = list.kit.find(({ kit }) => kit === id)?.name[language];
    return asTitle(listed ?? draft.kit.find(({ kit }) => kit === id)?.name ?? id, language);
  };
  const placeOf = (id: string) => sheet.compartments.find((one) => one.id === id)?.name[language] ?? id;
  const kg = (mass_kg: number) => mass.text(mass_kg, "higher");
  const lines = [
    ...check.missing.map((item) => words.missing(nameOf(item), kg(item.mass_kg))),
    ...check.twice.map(({ item, times }) => words.twice(nameOf(item), times)),
    ...check.extra.map((item) => words.extra(nameOf(item))),
    ...check.elsewhere.map(({ listed }) => words.elsewhere(nameOf(listed), placeOf(listed.place))),
    ...check.otherMass.map(({ listed, confirmed }) =>
      words.otherMass(nameOf(listed), kg(confirmed.mass_kg), kg(listed.mass_kg)),
    ),
  ];
  return (
    <output className="stack load-kit-said">
      {check.isAsListed ? (
        <p>{words.asListed}</p>
      ) : (
        <ul className="rows">
          {lines.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
      <p className="quiet small">{words.totals(kg(check.confirmed.mass_kg), kg(check.listed.mass_kg))}</p>
    </output>
  );
}
