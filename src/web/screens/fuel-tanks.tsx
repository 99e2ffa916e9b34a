// The tanks of the base where a machine stands: whether each gives fuel, how much is left as a whole interval, what was seen
// and delivered, and what can be recorded of it.
import { useState } from "react";
import type { FuelAmount, TankFacts } from "../../core/facts/base-tank.ts";
import type { BaseSky } from "../../core/facts/sky.ts";
import { tankAt } from "../../core/fuel/tank-at.ts";
import { tankStock, type TakenFuel, type TankStock } from "../../core/fuel/tank-stock.ts";
import { displayNumber, type Worse } from "../../core/quantity/display.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import { barWords } from "../../present/words/tank-bars.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { Glyph } from "../parts/glyph.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { useLocale } from "../parts/words.tsx";
import { useNames, useSnapshot } from "./app-context.tsx";
import { CheckForm, DeliverForm, DescribeForm, DrawForm, WordsForm } from "./fuel-tank-forms.tsx";
import { FuelSchemeSection } from "./fuel-scheme.tsx";
import { useFuelWords } from "./use-fuel-words.ts";

type Doing = "check" | "deliver" | "shut" | "open" | "filter" | "draw" | "describe";

/** Fuel that any craft took, by the craft's name. */
type Taken = TakenFuel & { readonly entry: string; readonly by: string; readonly craft: string };

export function BaseFuel({ craft }: { readonly craft: CraftView }) {
  const { me } = useSnapshot();
  const words = useFuelWords();
  const [describing, setDescribing] = useState(false);
  const base = craft.sky;
  if (base === null) return <p className="quiet">{words.tanks.noBase}</p>;
  const tanks = [...new Set(base.state.tanks.described.map(({ tank }) => tank))];
  const isOffice = me?.roles.some((role) => role === "administrator" || role === "airworthiness") === true;
  return (
    <section className="stack" aria-labelledby="fuel-base">
      <h2 id="fuel-base" className="heading-small">
        {words.tanks.title(base.name)}
      </h2>
      {tanks.length === 0 && (
        <>
          <p>{words.tanks.none}</p>
          <p className="quiet">{words.tanks.noneBody}</p>
        </>
      )}
      {tanks.map((tank) => (
        <OneTank key={tank} craft={craft} base={base} tank={tank} isOffice={isOffice} />
      ))}
      <Button
        look="plain"
        onPress={() => setDescribing(true)}
        {...(isOffice ? {} : { why: words.tanks.onlyOffice })}
      >
        {words.tanks.describe}
      </Button>
      <Sheet title={words.tanks.describe} open={describing} onClose={() => setDescribing(false)}>
        {describing && <DescribeForm base={base} tank={null} onDone={() => setDescribing(false)} />}
      </Sheet>
      <FuelSchemeSection base={base} isOffice={isOffice} />
    </section>
  );
}

type OneProps = {
  readonly craft: CraftView;
  readonly base: BaseSky;
  readonly tank: string;
  readonly isOffice: boolean;
};

function OneTank({ craft, base, tank, isOffice }: OneProps) {
  const { now_ms, me, craft: fleet } = useSnapshot();
  const { tanks: words } = useFuelWords();
  const locale = useLocale();
  const [doing, setDoing] = useState<Doing | null>(null);
  const facts = base.state.tanks;
  const taken = fleet.flatMap(({ name, state }) =>
    state.fuelFilled.map((one): Taken => ({ ...one, craft: name })),
  );
  const at = tankAt(facts, tank, now_ms);
  const stock = tankStock(facts, tank, taken, now_ms);
  const close = () => setDoing(null);
  const name = at.rules?.name ?? tank;
  const ended = new Set(facts.opened.flatMap(({ ends }) => ends));
  const shut = facts.shut.filter((one) => one.tank === tank && !ended.has(one.entry));
  const mayOpen = isOffice || me?.roles.includes("engineer") === true;
  const titles: Readonly<Record<Doing, string>> = {
    check: words.check,
    deliver: words.deliver,
    shut: words.shut,
    open: words.open,
    filter: words.filter,
    draw: words.draw,
    describe: words.edit,
  };
  const isBarred = at.bars.length > 0;
  const isOpenable = shut.length > 0 || at.bars.some(({ code }) => code === "otherGrade");
  const button = (one: Doing, why: string | null = null) => (
    <Button onPress={() => setDoing(one)} {...(why === null ? {} : { why })}>
      {titles[one]}
    </Button>
  );
  return (
    <article className="tank" aria-label={name}>
      <h3 className="title">
        {asTitle(name, locale.language)} <span className="unit">{at.rules?.grade}</span>
      </h3>
      <p className="tank-state">
        <Glyph name={isBarred ? "notReached" : "good"} />
        <span>
          <b>{at.rules?.inUse === false ? words.outOfUse : isBarred ? words.shutNow : words.gives}</b>
          {!isBarred && at.sampleEnds_ms !== null && (
            <>, {words.until(timeSeenFrom(now_ms, at.sampleEnds_ms, locale))}</>
          )}
        </span>
      </p>
      {isBarred && (
        <ul className="tank-bars">
          {at.bars.map(({ code, until_ms }) => (
            <li key={code}>
              {asTitle(barWords(code, locale.language), locale.language)}
              {until_ms !== null && `, ${words.settles(timeSeenFrom(now_ms, until_ms, locale))}`}
            </li>
          ))}
        </ul>
      )}
      <Stock name={name} stock={stock} capacity_L={at.rules?.capacity_L ?? 0} low_L={at.rules?.low_L ?? 0} />
      <Newest facts={facts} tank={tank} />
      <div className="tank-buttons">
        {button("check")}
        {button("deliver")}
        {isOpenable && button("open", mayOpen ? null : words.onlyOpeners)}
      </div>
      <details className="tank-more">
        <summary>{words.more}</summary>
        <div className="stack">
          <div className="tank-buttons">
            {button("shut")}
            {button("filter")}
            {button("draw")}
            {button("describe", isOffice ? null : words.onlyOffice)}
          </div>
          <History facts={facts} tank={tank} taken={taken} craft={craft} />
        </div>
      </details>
      <Sheet title={doing === null ? "" : titles[doing]} open={doing !== null} onClose={close}>
        {doing === "check" && <CheckForm base={base} tank={tank} onDone={close} />}
        {doing === "deliver" && <DeliverForm base={base} tank={tank} onDone={close} />}
        {doing === "draw" && <DrawForm base={base} tank={tank} onDone={close} />}
        {doing === "describe" && <DescribeForm base={base} tank={tank} onDone={close} />}
        {doing === "shut" && <WordsForm base={base} tank={tank} type="tank.shut" onDone={close} />}
        {doing === "filter" && <WordsForm base={base} tank={tank} type="tank.filterChanged" onDone={close} />}
        {doing === "open" && (
          <WordsForm
            base={base}
            tank={tank}
            type="tank.opened"
            ends={shut.map(({ entry }) => entry)}
            onDone={close}
          />
        )}
      </Sheet>
    </article>
  );
}

type StockProps = {
  readonly name: string;
  readonly stock: TankStock;
  readonly capacity_L: number;
  readonly low_L: number;
};

/** Full ink up to what is certainly there, thin up to what may be; a stroke where it counts as low. */
function Stock({ name, stock, capacity_L, low_L }: StockProps) {
  const { now_ms } = useSnapshot();
  const { tanks: words } = useFuelWords();
  const locale = useLocale();
  const litres = (value: number, worse: Worse) => `${displayNumber(value, 0, worse, locale.language)} L`;
  if (stock.is === "notKnown") return <p>{words.stockWhy[stock.why]}</p>;
  const at = (value: number) => (100 * value) / capacity_L;
  const [low, high] = [litres(stock.low_L, "lower"), litres(stock.high_L, "higher")];
  return (
    <div>
      <svg
        className="tank-bar"
        viewBox="0 0 100 12"
        preserveAspectRatio="none"
        role="img"
        aria-label={words.barLabel(name, low, high)}
      >
        <rect className="tank-bar-may" x="0" y="2" width={at(stock.high_L)} height="8" />
        <rect className="tank-bar-is" x="0" y="2" width={at(stock.low_L)} height="8" />
        <path className="tank-bar-low" d={`M${at(low_L)} 0V2M${at(low_L)} 10V12`} />
        <path className="tank-bar-end" d="M0 0V12M100 0V12M0 10.5H100" />
      </svg>
      <p>{words.stock(low, high, litres(capacity_L, "both"))}</p>
      <p className="small quiet">
        {words.stockDipped(timeSeenFrom(now_ms, stock.dipped_ms, locale))};{" "}
        {words.lowFrom(litres(low_L, "both"))}
      </p>
      {stock.low_L <= low_L && <p>{words.low(litres(low_L, "both"))}</p>}
    </div>
  );
}

const newestFirst = <Fact extends { readonly at_ms: number; readonly tank: string }>(
  facts: readonly Fact[],
  tank: string,
): readonly Fact[] => facts.filter((one) => one.tank === tank).toSorted((a, b) => b.at_ms - a.at_ms);

function useAmount() {
  const { units } = useFuelWords();
  const { language } = useLocale();
  return ({ amount, unit }: FuelAmount): string =>
    `${displayNumber(amount, Number.isInteger(amount) ? 0 : 1, "both", language)} ${units[unit]}`;
}

function Newest({ facts, tank }: { readonly facts: TankFacts; readonly tank: string }) {
  const { now_ms } = useSnapshot();
  const { tanks: words, samples } = useFuelWords();
  const locale = useLocale();
  const names = useNames(null);
  const amount = useAmount();
  const [delivery] = newestFirst(facts.delivered, tank);
  const [check] = newestFirst(facts.checked, tank);
  return (
    <div className="small quiet">
      {check !== undefined && (
        <p>
          {words.lastSample(
            check.waterFound ? `${samples[check.sample]}, ${words.waterFound}` : samples[check.sample],
            timeSeenFrom(now_ms, check.at_ms, locale),
            names.person(check.by),
          )}
        </p>
      )}
      <p>
        {delivery === undefined
          ? words.noDelivery
          : words.lastDelivery(
              amount(delivery),
              delivery.docket,
              timeSeenFrom(now_ms, delivery.at_ms, locale),
            )}
      </p>
    </div>
  );
}

const longest = 40;

type HistoryProps = {
  readonly facts: TankFacts;
  readonly tank: string;
  readonly taken: readonly Taken[];
  readonly craft: CraftView;
};

function History({ facts, tank, taken, craft }: HistoryProps) {
  const { now_ms } = useSnapshot();
  const { tanks: words, samples } = useFuelWords();
  const locale = useLocale();
  const names = useNames(craft);
  const amount = useAmount();
  const litres = (value: number) => `${displayNumber(value, 0, "both", locale.language)} L`;
  type Row = { readonly entry: string; readonly at_ms: number; readonly by: string; readonly what: string };
  const row = (
    kind: keyof typeof words.was,
    { entry, at_ms, by }: { readonly entry: string; readonly at_ms: number; readonly by: string },
    ...rest: readonly string[]
  ): Row => ({ entry, at_ms, by, what: [words.was[kind], ...rest.filter((part) => part !== "")].join(", ") });
  const of = <Fact extends { readonly tank: string }>(all: readonly Fact[]) =>
    all.filter((one) => one.tank === tank);
  const rows: readonly Row[] = [
    ...of(facts.delivered).map((one) => row("delivered", one, amount(one), one.grade, one.docket, one.batch)),
    ...of(facts.checked).map((one) =>
      row(
        "checked",
        one,
        samples[one.sample],
        one.waterFound ? words.waterFound : words.clears,
        one.stock_L === null ? "" : litres(one.stock_L),
      ),
    ),
    ...of(facts.filters).map((one) => row("filters", one, one.words)),
    ...of(facts.shut).map((one) => row("shut", one, one.words)),
    ...of(facts.opened).map((one) => row("opened", one, one.words)),
    ...of(facts.drawn).map((one) => row("drawn", one, amount(one), one.words)),
    ...taken
      .filter(({ baseTank }) => baseTank === tank)
      .map((one) => ({ ...one, what: `${words.took(one.craft)} ${amount(one)}` })),
  ].toSorted((a, b) => b.at_ms - a.at_ms);
  return (
    <section className="stack">
      <h4 className="heading-small">{words.history}</h4>
      <ul className="rows">
        {rows.slice(0, longest).map(({ entry, at_ms, by, what }) => (
          <li key={entry} className="tank-event">
            <span>{asTitle(what, locale.language)}</span>
            <span className="small quiet">
              {timeSeenFrom(now_ms, at_ms, locale)}, {names.person(by)}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
