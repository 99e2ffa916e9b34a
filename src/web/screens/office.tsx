// What the airworthiness office and the engineers sign for one machine: the opening balance, new counters, work done, parts
// in and out, dated matters, and the one extension of a deferral. Each form says whose role it takes.
import { useState } from "react";
import type { ReactNode } from "react";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { useLocale } from "../parts/words.tsx";
import { useNames, useSnapshot } from "./app-context.tsx";
import { Frame } from "./frame.tsx";
import { BalanceForm, CountersForm } from "./office-balance.tsx";
import { ExtendForm, ObligationForm, PartForm, WorkForm } from "./office-forms.tsx";
import { useOfficeWords } from "./use-office-words.ts";

export type OfficeFormProps = { readonly craft: CraftView; readonly onDone: () => void };
type Role = "airworthiness" | "engineer" | "pilot";
type Doing = "balance" | "counters" | "work" | "install" | "remove" | "obligation" | "extend";

const roles: Readonly<Record<Doing, readonly Role[]>> = {
  balance: ["airworthiness"],
  counters: ["airworthiness"],
  work: ["engineer", "airworthiness"],
  install: ["engineer", "airworthiness"],
  remove: ["engineer", "airworthiness"],
  obligation: ["engineer", "airworthiness"],
  extend: ["airworthiness"],
};

const InstallForm = (props: OfficeFormProps) => <PartForm {...props} how="install" />;
const RemoveForm = (props: OfficeFormProps) => <PartForm {...props} how="remove" />;
const forms: Readonly<Record<Doing, (props: OfficeFormProps) => ReactNode>> = {
  balance: BalanceForm,
  counters: CountersForm,
  work: WorkForm,
  install: InstallForm,
  remove: RemoveForm,
  obligation: ObligationForm,
  extend: ExtendForm,
};

export function OfficeScreen({ craft }: { readonly craft: CraftView }) {
  const { office: words } = useOfficeWords();
  const { now_ms, me } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  const [doing, setDoing] = useState<Doing | null>(null);
  const [base] = craft.state.due.bases.toSorted((a, b) => b.at_ms - a.at_ms);
  const hasBalance = base !== undefined;
  const close = () => setDoing(null);
  const titles: Readonly<Record<Doing, string>> = {
    balance: words.signBalance,
    counters: words.step,
    work: words.work,
    install: words.install,
    remove: words.remove,
    obligation: words.obligation,
    extend: words.extend,
  };
  const notes: Readonly<Partial<Record<Doing, string>>> = {
    counters: words.stepNote,
    work: words.workNote,
    obligation: words.obligationNote,
    extend: words.extendNote,
  };
  const offered: readonly Doing[] = [
    ...(hasBalance ? (["counters"] as const) : (["balance"] as const)),
    "work",
    "install",
    "remove",
    "obligation",
    "extend",
  ];
  const Form = doing === null ? null : forms[doing];
  return (
    <Frame craft={craft} name={`${craft.name} · ${words.title}`} nameAs="h1">
      <div className="stack-wide settings">
        <p className="quiet">{words.intro}</p>
        <section className="stack">
          <h2 className="heading-small">{words.balance}</h2>
          <p>
            {base === undefined
              ? words.balanceMissing
              : words.balanceSigned(timeSeenFrom(now_ms, base.at_ms, locale), names.person(base.by))}
          </p>
          {base !== undefined && base.why !== "" && <p className="small quiet">{base.why}</p>}
        </section>
        <div className="office-buttons">
          {offered.map((one) => {
            const may = roles[one].some((role) => me?.roles.includes(role) === true);
            const who = words.onlyFor(roles[one].map((role) => words.role[role]).join(", "));
            return (
              <Button
                key={one}
                onPress={() => setDoing(one)}
                {...(notes[one] === undefined ? {} : { note: notes[one] })}
                {...(may ? {} : { why: who })}
              >
                {titles[one]}
              </Button>
            );
          })}
        </div>
      </div>
      <Sheet title={doing === null ? "" : titles[doing]} open={doing !== null} onClose={close}>
        {Form !== null && <Form craft={craft} onDone={close} />}
      </Sheet>
    </Frame>
  );
}
