// Every part in every state, on plates of their own.
import { useState } from "react";
import photo from "./photo.svg";
import type { ReactNode } from "react";
import { sampleOutline, sampleStops } from "../../present/drawing/sample.ts";
import { verdicts } from "../../core/standing/combine.ts";
import { effects } from "../../core/facts/reason.ts";
import { phrase, subject } from "../../present/words/phrase.ts";
import { currentLight, setLight } from "../look/light.ts";
import { AircraftDrawing } from "../parts/aircraft-drawing.tsx";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { ExchangeLine } from "../parts/exchange-line.tsx";
import { Field } from "../parts/field.tsx";
import { Glyph } from "../parts/glyph.tsx";
import type { GlyphName } from "../parts/glyph.tsx";
import { HoldButton } from "../parts/hold-button.tsx";
import { LanguageSwitch } from "../parts/language-switch.tsx";
import { LightSwitch } from "../parts/light-switch.tsx";
import { MarkRow } from "../parts/mark-row.tsx";
import { Navigation } from "../parts/navigation.tsx";
import { Notice } from "../parts/notice.tsx";
import { OpenFrame } from "../parts/open-frame.tsx";
import { PersonPick } from "../parts/person-pick.tsx";
import { Photo } from "../parts/photo.tsx";
import { Picker } from "../parts/picker.tsx";
import { PinPad } from "../parts/pin-pad.tsx";
import { ReasonList, ReasonRow } from "../parts/reasons.tsx";
import { Ribbon, RibbonTicks, StandingRows } from "../parts/ribbon.tsx";
import { Screen } from "../parts/screen.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { Stepper } from "../parts/stepper.tsx";
import { Table } from "../parts/table.tsx";
import type { Column } from "../parts/table.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { Verdict } from "../parts/verdict.tsx";
import { Empty, Failed, Loading } from "../parts/whole-screen.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import {
  day,
  dayVfr,
  hoist,
  mixed,
  nightVfr,
  now_ms,
  people,
  reasons,
  standingRows,
  transfer,
} from "./samples.ts";

const nothing = () => undefined;

function Part({ name, children }: { readonly name: string; readonly children: ReactNode }) {
  return (
    <section className="plate-part">
      <h2 className="heading-small plate-name">{name}</h2>
      {children}
    </section>
  );
}

function Plate({
  name,
  children,
  craft = false,
}: {
  readonly name: string;
  readonly children: ReactNode;
  readonly craft?: boolean;
}) {
  return (
    <Screen name={name} nameAs="h1" place={craft ? "craft" : "desk"}>
      {children}
    </Screen>
  );
}

function Places({ here, many = false }: { readonly here: string; readonly many?: boolean }) {
  const { screens } = useWords().app;
  const ids = Object.keys(screens) as (keyof typeof screens)[];
  const now = ids.filter((id) => many || ["machines", "standing", "walk", "findings", "ledger"].includes(id));
  return (
    <Navigation
      groups={[now.map((id) => ({ id, name: screens[id], href: `#${id}` }))]}
      here={here}
      onGo={nothing}
    />
  );
}

function StandingPlate() {
  const { language } = useLocale();
  const { standing, walk, app } = useWords();
  return (
    <Screen
      name="Tinde"
      aside={<ExchangeLine exchanged_ms={now_ms} now_ms={now_ms} unsent={2} aside={0} />}
      navigation={<Places here="standing" />}
      foot={
        <TwoButtons
          left={{ children: app.screens.call, onPress: nothing }}
          right={{ children: walk.kind.launch, note: walk.things(7), onPress: nothing }}
        />
      }
    >
      <div className="columns">
        <div className="stack">
          <Verdict
            verdict="withinLimits"
            then={`${language === "en" ? "Day VFR" : "Sichtflug bei Tag"}, ${standing.untilThen("15:12", language === "en" ? "the day ends" : "endet der Tag")}`}
          />
          <StandingRows rows={standingRows(language)} time={day} />
        </div>
        <ReasonList reasons={reasons(language, nothing)} />
      </div>
    </Screen>
  );
}

const order = sampleStops("en").map(({ id }) => id);
const hereAt = order.indexOf("engineLeft");

function WalkPlate() {
  const { language } = useLocale();
  const { walk } = useWords();
  const german = language === "de";
  return (
    <Screen
      name={german ? "Linkes Triebwerk" : "Left engine"}
      nameAs="h1"
      place="craft"
      aside={
        <p className="exchange">
          {walk.stopOf(hereAt + 1, order.length)}, {walk.access.ladder}
        </p>
      }
      foot={
        <TwoButtons
          left={{ children: walk.doing.finding, onPress: nothing }}
          right={{
            children: walk.doing.good,
            holdFor: walk.doing.restOfStop,
            holdForLong: walk.doing.restOfStopLong,
            onTap: nothing,
            onHeld: nothing,
          }}
        />
      }
    >
      <div className="columns">
        <AircraftDrawing
          outline={sampleOutline}
          stops={sampleStops(language)}
          visited={order.slice(0, hereAt)}
          here={order[hereAt] ?? null}
          ahead={order.slice(hereAt + 1)}
          open={new Set(["engineCowlLeft"])}
          findings={new Map([["cabinLeft", 1]])}
          names="few"
          onStop={nothing}
        />
        <div className="stack">
          <div>
            <h2 className="head">
              {german
                ? "Ölstand im Schauglas zwischen den Marken"
                : "Oil in the sight glass, between the marks"}
            </h2>
            <p className="lead quiet">
              {german
                ? "ablesen, frühestens 15 min nach dem Abstellen"
                : "read level, 15 min after shutdown or later"}
            </p>
          </div>
          <OpenFrame
            here
            open={[
              { id: "a", name: german ? "Triebwerksverkleidung links" : "left cowl" },
              { id: "b", name: german ? "Öleinfülldeckel" : "oil cap" },
            ]}
          />
          <ul className="rows">
            <li>
              <MarkRow mark={null}>
                {german ? "Leitungen trocken, Schellen zu" : "Lines dry, clips closed"}
              </MarkRow>
            </li>
            <li>
              <MarkRow mark="good" aside="6.5 L">
                {german ? "Öl zwischen den Marken" : "Oil between the marks"}
              </MarkRow>
            </li>
            <li>
              <MarkRow mark="finding" detail={german ? "Scheuerstelle, 3 mm" : "chafing, 3 mm"}>
                {german ? "Zündleitung ohne Scheuerstellen" : "Ignition lead free of chafing"}
              </MarkRow>
            </li>
            <li>
              <MarkRow mark="notReached" detail={german ? "Eis auf dem Tritt" : "ice on the step"}>
                {german ? "Lufteinlauf frei" : "Intake free"}
              </MarkRow>
            </li>
          </ul>
        </div>
      </div>
    </Screen>
  );
}

type Machine = {
  readonly id: string;
  readonly verdict: string;
  readonly spans: typeof dayVfr;
  readonly ends: string;
  readonly crew: string;
};

const machineColumns: readonly Column<Machine>[] = [
  { id: "craft", head: "craft", kind: "name", cell: ({ id }) => id },
  { id: "now", head: "now", cell: ({ verdict }) => verdict },
  {
    id: "line",
    head: "next 30 h, day VFR",
    cell: ({ id, spans }) => <Ribbon name={id} spans={spans} time={day} />,
  },
  { id: "ends", head: "ends first", cell: ({ ends }) => ends },
  { id: "with", head: "with", cell: ({ crew }) => <span className="quiet">{crew}</span> },
  { id: "hours", head: "hours", kind: "number", cell: () => "1,203.4" },
];

function MachinesPlate() {
  const { standing } = useWords();
  const machines: readonly Machine[] = [
    {
      id: "Tinde",
      verdict: standing.verdict.withinLimits,
      spans: dayVfr,
      ends: "15:12 day ends",
      crew: "crew Ravn, Lind",
    },
    {
      id: "Skjær",
      verdict: standing.verdict.notReady,
      spans: nightVfr,
      ends: "full walk due",
      crew: "crew Holm",
    },
    {
      id: "Myr",
      verdict: standing.verdict.notKnown,
      spans: hoist,
      ends: "weather 96 min old",
      crew: "maintenance, until 11:00",
    },
  ];
  return (
    <Screen
      name="Skarvøy"
      nameAs="h1"
      aside={<ExchangeLine exchanged_ms={now_ms - 3_600_000} now_ms={now_ms} unsent={0} aside={0} />}
      navigation={<Places here="machines" many />}
    >
      <Table caption="Machines at Skarvøy" rows={machines} rowId={({ id }) => id} columns={machineColumns} />
    </Screen>
  );
}

function RibbonPlate() {
  return (
    <Plate name="Ribbon">
      {(
        [
          ["ready, then not", transfer],
          ["within limits, not ready, ready", dayVfr],
          ["not ready throughout", nightVfr],
          ["not known throughout", hoist],
          ["all, with four minutes of not ready", mixed],
          ["nothing said", []],
        ] as const
      ).map(([name, spans]) => (
        <Part key={name} name={name}>
          <Ribbon name={name} spans={spans} time={day} />
          <RibbonTicks time={day} />
        </Part>
      ))}
      <Part name="in a narrow place">
        <div style={{ inlineSize: 130 }}>
          <Ribbon name="narrow" spans={mixed} time={day} />
          <RibbonTicks time={day} />
        </div>
      </Part>
    </Plate>
  );
}

function VerdictPlate() {
  const { standing } = useWords();
  return (
    <Plate name="Verdicts and reasons">
      {verdicts.map((verdict) => (
        <Part key={verdict} name={verdict}>
          <Verdict verdict={verdict} then={standing.until("15:12")} />
        </Part>
      ))}
      <Part name="one row of each effect">
        {effects.map((effect) => (
          <ReasonRow
            key={effect}
            effect={effect}
            title={phrase`${subject("Subject")} and what is said of it`}
            detail="detail"
            clears={standing.clearance.someone}
          />
        ))}
      </Part>
      <Part name="nothing stands against it">
        <ReasonList reasons={[]} />
      </Part>
      <Part name="marks">
        <p style={{ display: "flex", flexWrap: "wrap", gap: 16, fontSize: 24 }}>
          {(["good", "blank", "finding", "notReached", "unknown", "limits", "advises"] as GlyphName[]).map(
            (name) => (
              <Glyph key={name} name={name} />
            ),
          )}
        </p>
      </Part>
    </Plate>
  );
}

function PressPlate() {
  const { walk } = useWords();
  const [said, setSaid] = useState("nothing pressed");
  return (
    <Plate name="Buttons" craft>
      <p aria-live="polite">{said}</p>
      <Part name="two">
        <TwoButtons
          left={{ children: walk.doing.finding, onPress: () => setSaid("finding") }}
          right={{
            children: walk.doing.good,
            holdFor: walk.doing.restOfStop,
            holdForLong: walk.doing.restOfStopLong,
            onTap: () => setSaid("good"),
            onHeld: () => setSaid("rest of stop"),
          }}
        />
      </Part>
      <Part name="one, and one that cannot be used now">
        <div className="stack">
          <TwoButtons
            right={{ children: walk.kind.launch, note: walk.things(7), onPress: () => setSaid("launch") }}
          />
          <TwoButtons
            left={{ children: walk.doing.finish, why: walk.itemsLeft(3), onPress: () => setSaid("never") }}
            right={{ children: walk.doing.nextStop, onPress: () => setSaid("next") }}
          />
        </div>
      </Part>
      <Part name="held only">
        <HoldButton holdFor={walk.doing.callOut} onHeld={() => setSaid("call-out")}>
          {walk.doing.callOut}
        </HoldButton>
      </Part>
      <Part name="looks">
        <p style={{ display: "flex", flexWrap: "wrap", gap: 16 }}>
          <Button look="filled" onPress={nothing}>
            Filled
          </Button>
          <Button onPress={nothing}>Outlined</Button>
          <Button look="plain" onPress={nothing}>
            Plain
          </Button>
          <Button onPress={nothing} why="not while on a walk">
            Blocked
          </Button>
        </p>
      </Part>
    </Plate>
  );
}

function OneStepper({ start, craft = "" }: { readonly start: string; readonly craft?: string }) {
  const [typed, setTyped] = useState(start);
  return (
    <Stepper
      label={`Engine 1 oil${craft}`}
      typed={typed}
      onTyped={setTyped}
      scale={{ decimals: 1, lowest: 3.5, highest: 7.5 }}
      step={0.1}
      startAt={5.5}
      unit="L"
      hint={typed === "" ? "between the marks: 4.0 to 7.0 L" : "last 6.4 L, yesterday 06:40"}
    />
  );
}

function EntryPlate() {
  const [text, setText] = useState("");
  const [choice, setChoice] = useState<"good" | "finding" | null>(null);
  const [picked, setPicked] = useState<string | null>(null);
  const { finding, walk } = useWords();
  return (
    <Plate name="Entry" craft>
      <div className="columns">
        <div>
          {["", "6.5", "9.9", "full", "1.250", "4.55"].map((start) => (
            <Part key={start} name={`stepper: ${start === "" ? "empty" : start}`}>
              <OneStepper start={start} />
            </Part>
          ))}
        </div>
        <div>
          <Part name="fields">
            <div className="stack">
              <Field
                label={finding.words}
                value={text}
                onChange={setText}
                hint="what you see, not what you think it is"
                lines="many"
              />
              <Field label={finding.where} value="12 cm aft of the hinge" onChange={nothing} />
              <Field
                label={finding.howMuch}
                value="small"
                onChange={nothing}
                issue="“small” is not a number"
              />
            </div>
          </Part>
          <Part name="choices">
            <div className="stack">
              <ChoiceRow
                name={finding.judge}
                width="long"
                value={choice}
                onChoose={setChoice}
                choices={[
                  { value: "good", label: finding.outcome.watch, note: finding.outcomeMeans.watch },
                  { value: "finding", label: finding.outcome.ground, note: finding.outcomeMeans.ground },
                ]}
              />
              <ChoiceRow
                name="One chosen, one not to be had"
                value="good"
                onChoose={nothing}
                choices={[
                  { value: "good", label: walk.mark.good },
                  { value: "finding", label: walk.mark.finding },
                  { value: "none", label: walk.mark.notReached, disabled: true },
                ]}
              />
            </div>
          </Part>
          <Part name="picker">
            <Picker
              label={finding.what}
              value={picked}
              onChoose={setPicked}
              choices={Object.entries(finding.kind).map(([id, name]) => ({ id, name }))}
            />
          </Part>
        </div>
      </div>
    </Plate>
  );
}

function PeoplePlate() {
  const [pin, setPin] = useState("1234");
  const [person, setPerson] = useState<string | null>("p1");
  const { entry } = useWords();
  return (
    <Plate name={entry.person.name} craft>
      <div className="columns">
        <Part name="person">
          <PersonPick people={people} chosen={person} onPick={setPerson} />
        </Part>
        <Part name="pin">
          <PinPad pin={pin} onPin={setPin} onEnter={nothing} longest={8} issue={entry.pin.wrong} />
        </Part>
      </div>
      <Part name="nobody">
        <PersonPick people={[]} chosen={null} onPick={nothing} />
      </Part>
    </Plate>
  );
}

function SheetPlate() {
  const [open, setOpen] = useState(true);
  const { finding, app } = useWords();
  return (
    <Plate name="Sheet">
      <Button onPress={() => setOpen(true)}>Open</Button>
      <Sheet
        title={finding.judge}
        open={open}
        onClose={() => setOpen(false)}
        foot={
          <TwoButtons
            left={{ children: app.doing.cancel, onPress: () => setOpen(false) }}
            right={{ children: app.doing.save, onPress: () => setOpen(false) }}
          />
        }
      >
        <div className="stack">
          <p>
            <b>Chafing</b>, 3 mm, at the ignition lead of the left engine
          </p>
          <OneStepper start="" />
        </div>
      </Sheet>
    </Plate>
  );
}

function StatesPlate() {
  const { finding, app, ledger } = useWords();
  return (
    <Plate name="States of a whole screen">
      <Part name="exchange">
        <ExchangeLine exchanged_ms={now_ms} now_ms={now_ms} unsent={0} aside={0} />
        <ExchangeLine exchanged_ms={now_ms - 86_400_000} now_ms={now_ms} unsent={14} aside={2} />
        <ExchangeLine exchanged_ms={null} now_ms={now_ms} unsent={1} aside={0} failed />
      </Part>
      <Part name="loading">
        <Loading />
      </Part>
      <Part name="empty">
        <Empty title={finding.none}>{finding.noneBody}</Empty>
        <Empty title={ledger.none} action={<Button onPress={nothing}>{app.screens.walk}</Button>}>
          {ledger.noneBody}
        </Empty>
      </Part>
      <Part name="offline">
        <Notice title={app.offline.title}>
          <p>{app.offline.body}</p>
        </Notice>
      </Part>
      <Part name="not readable">
        <Failed what="entry 4f2a…, walk.page, version 3" onRetry={nothing} />
      </Part>
      <Part name="storage gone">
        <Notice title={app.failed.storageTitle} kind="problem">
          <p>{app.failed.storage}</p>
        </Notice>
      </Part>
      <Part name="photo">
        <Photo src={photo} says="a landing light with a crack" />
      </Part>
    </Plate>
  );
}

function SwitchesPlate() {
  const [light, set] = useState(currentLight());
  const { language } = useLocale();
  return (
    <Plate name="Light and language">
      <Part name="light">
        <LightSwitch
          light={light}
          onLight={(next) => {
            setLight(next);
            set(next);
          }}
        />
      </Part>
      <Part name="language">
        <LanguageSwitch language={language} onLanguage={nothing} />
      </Part>
    </Plate>
  );
}

function DrawingPlate() {
  const { language } = useLocale();
  const stops = sampleStops(language);
  const [asked, setAsked] = useState("nowhere");
  const shared = { outline: sampleOutline, stops, names: "few", onStop: setAsked } as const;
  const none = { open: new Set<string>(), findings: new Map<string, number>() };
  return (
    <Plate name="Drawing">
      <p>
        asked to go to: <b>{asked}</b>
      </p>
      <Part name="not begun">
        <AircraftDrawing {...shared} {...none} visited={[]} here={null} ahead={order} />
      </Part>
      <Part name="on top, doors open, findings">
        <AircraftDrawing
          {...shared}
          visited={order.slice(0, 7)}
          here="head"
          ahead={order.slice(8)}
          open={new Set(["frontDoorLeft", "cabinDoorRight", "engineCowlLeft"])}
          findings={
            new Map([
              ["noseLeft", 1],
              ["boomRight", 3],
            ])
          }
        />
      </Part>
      <Part name="all but finished">
        <AircraftDrawing {...shared} {...none} visited={order.slice(0, -1)} here="lastLook" ahead={[]} />
      </Part>
      <Part name="finished, every name that finds a place">
        <AircraftDrawing {...shared} {...none} names="all" visited={order} here={null} ahead={[]} />
      </Part>
      <Part name="walked in another order">
        <AircraftDrawing
          {...shared}
          {...none}
          visited={["approach", "nose", "noseRight", "cabinRight"]}
          here="tail"
          ahead={order.filter((id) => !["approach", "nose", "noseRight", "cabinRight", "tail"].includes(id))}
        />
      </Part>
      <Part name="nose up">
        <div style={{ maxInlineSize: 420 }}>
          <AircraftDrawing
            {...shared}
            {...none}
            heading="up"
            names="all"
            visited={order.slice(0, 12)}
            here={order[12] ?? null}
            ahead={order.slice(13)}
          />
        </div>
      </Part>
    </Plate>
  );
}

function TypePlate() {
  return (
    <Plate name="Type">
      <Part name="scale">
        <p className="verdict-words">Verdict, 0O 1lI</p>
        <p className="head">Heading of what is at hand</p>
        <p className="title">Title of a sheet or a table</p>
        <p className="lead">Lead: said first, read from an arm's length</p>
        <p>Body: a sentence that a person reads in the cold, ÆØÅ æøå ÄÖÜß ğışŁ</p>
        <p className="small quiet">Small and quiet: who, when, from where</p>
        <p className="mono">06:52 1,203.4 0O 1lI 3,310</p>
        <p className="head mono">
          1,204<span className="unit">kg</span>
        </p>
      </Part>
    </Plate>
  );
}

export const plates: Readonly<Record<string, () => ReactNode>> = {
  standing: StandingPlate,
  walk: WalkPlate,
  machines: MachinesPlate,
  drawing: DrawingPlate,
  ribbon: RibbonPlate,
  verdicts: VerdictPlate,
  press: PressPlate,
  entry: EntryPlate,
  people: PeoplePlate,
  sheet: SheetPlate,
  states: StatesPlate,
  switches: SwitchesPlate,
  type: TypePlate,
};
