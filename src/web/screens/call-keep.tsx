// Keeping an answer with all that it rests on, by one press; the calls that were kept; and one of them opened: what was
// asked, what was answered then, and what the same asks now. Prints as the sheet of the call.
import { useMemo, useState } from "react";
import type { CallKept } from "../../core/facts/call.ts";
import { instantToMs } from "../../core/facts/instant.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import { assessCall } from "../../core/reach/assess-call.ts";
import type { Call, CallAnswer, CallKnown } from "../../core/reach/call.ts";
import { keptCall } from "../../core/reach/kept-call.ts";
import { timeBoth, timeOfDay, timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView, SignRefusal } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { Notice } from "../parts/notice.tsx";
import { Table } from "../parts/table.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { type Decision, keptBody, marginChanges } from "./call-keep-view.ts";
import { type CallDraft, kitName } from "./call-view.ts";
import { Frame } from "./frame.tsx";
import { chooseFlown } from "./in-flight-view.ts";
import { marginName, roomText, type ToldMargin } from "./margin-words.ts";
import { useCallWords } from "./use-call-words.ts";
import { useMarginTeller } from "./use-margin-teller.ts";
import { useOfficeWords } from "./use-office-words.ts";

type FootProps = { readonly craft: CraftView; readonly draft: CallDraft; readonly answer: CallAnswer };

/** Two buttons: keep it and think, or decide and keep it. */
export function KeepFoot({ craft, draft, answer }: FootProps) {
  const { device, goTo } = useApp();
  const { me, now_ms } = useSnapshot();
  const { keeping: words } = useCallWords();
  const { office } = useOfficeWords();
  const locale = useLocale();
  const [refused, setRefused] = useState<SignRefusal | null>(null);
  const [kept, setKept] = useState<{ readonly asked: string; readonly at_ms: number } | null>(null);
  // The call is made anew with every minute and every entry: what is asked in it is what is kept.
  const asked = JSON.stringify({ ...answer.call, depart_ms: draft.depart_ms });
  const isKept = kept !== null && kept.asked === asked;
  const keep = async (decision: Decision) => {
    const id = `call-${now_ms.toString(36)}-${me?.id ?? "nobody"}`;
    const refusal = await device.sign(craft.ledger, "call.kept", keptBody(id, draft, answer, decision));
    setRefused(refusal);
    if (refusal !== null) return;
    setKept({ asked, at_ms: now_ms });
    if (decision !== "accepted") return;
    chooseFlown(craft.ledger, id);
    goTo({ screen: "inFlight", craft: craft.ledger.replace("craft:", "") });
  };
  const isAcceptable = answer.isAcceptable === true;
  return (
    <div className="stack-tight">
      {refused !== null && (
        <Notice
          title={office.refused(refused.code, refused.path, refused.found, refused.wanted)}
          kind="problem"
        />
      )}
      <TwoButtons
        left={{
          children: words.keep,
          note: words.keepNote,
          ...(isKept ? { why: words.kept(timeOfDay(kept.at_ms, locale)) } : {}),
          onPress: () => void keep("asked"),
        }}
        right={
          isAcceptable
            ? { children: words.accept, note: words.acceptNote, onPress: () => void keep("accepted") }
            : { children: words.decline, note: words.declineNote, onPress: () => void keep("declined") }
        }
      />
    </div>
  );
}

const shown = 20;

type KeptProps = {
  readonly craft: CraftView;
  readonly onOpen: (kept: CallKept) => void;
};

export function KeptCalls({ craft, onOpen }: KeptProps) {
  const { keeping: words, verdict } = useCallWords();
  const { now_ms } = useSnapshot();
  const names = useNames(craft);
  const locale = useLocale();
  const list = craft.state.calls.toSorted((a, b) => b.at_ms - a.at_ms).slice(0, shown);
  if (list.length === 0) return null;
  return (
    <section className="opens call-kept">
      <h2 className="heading-small">{words.heading}</h2>
      <ul className="rows">
        {list.map((kept) => (
          <li key={kept.entry}>
            <button
              type="button"
              className="call-kept-one"
              aria-label={words.open(kept.scene.name)}
              aria-describedby={`kept-${kept.entry}`}
              onClick={() => onOpen(kept)}
            >
              <span>
                <b>{[kept.scene.name, kept.hospital?.name].filter(Boolean).join(" · ")}</b>
                <span className="reason-detail" id={`kept-${kept.entry}`}>
                  {verdict[kept.verdict]}, {words.decision[kept.decision]}
                </span>
              </span>
              <span className="reason-clears">
                {words.by(names.person(kept.by), timeSeenFrom(now_ms, kept.at_ms, locale))}
              </span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

type PageProps = {
  readonly craft: CraftView;
  readonly known: CallKnown;
  readonly kept: CallKept;
  readonly onBack: () => void;
};

export function KeptPage({ craft, known, kept, onBack }: PageProps) {
  const { goTo } = useApp();
  const { app } = useWords();
  const { keeping: words, verdict } = useCallWords();
  const names = useNames(craft);
  const locale = useLocale();
  const call = useMemo(() => keptCall(kept.inputs), [kept]);
  const fly = () => {
    chooseFlown(craft.ledger, kept.call);
    goTo({ screen: "inFlight", craft: craft.ledger.replace("craft:", "") });
  };
  return (
    <Frame
      craft={craft}
      name={`${craft.name} · ${app.screens.call}`}
      foot={
        <TwoButtons
          left={{ children: app.doing.back, onPress: onBack }}
          right={{
            children: words.inFlight,
            onPress: fly,
            ...(call === null ? { why: words.unreadable } : {}),
          }}
        />
      }
    >
      <article className="stack-wide call-paper">
        <div className="verdict" data-verdict={kept.verdict}>
          <h1 className="verdict-words">
            {[kept.scene.name, kept.hospital?.name].filter(Boolean).join(" · ")}
          </h1>
          <p className="verdict-then">
            {verdict[kept.verdict]}, {words.decision[kept.decision]};{" "}
            {words.by(names.person(kept.by), timeBoth(kept.at_ms, locale))}
          </p>
        </div>
        {call === null ? (
          <Notice title={words.unreadable} />
        ) : (
          <>
            <Inputs craft={craft} kept={kept} call={call} />
            <ThenAndNow craft={craft} known={known} kept={kept} call={call} />
          </>
        )}
        <p className="quiet small">{words.caution}</p>
        <Button onPress={() => print()}>{words.print}</Button>
      </article>
    </Frame>
  );
}

/** What was asked, as it stands in the record. */
function Inputs({
  craft,
  kept,
  call,
}: {
  readonly craft: CraftView;
  readonly kept: CallKept;
  readonly call: Call;
}) {
  const { keeping: words } = useCallWords();
  const { amounts, locale, names } = useMarginTeller(craft);
  const { language } = locale;
  const number = (value: number) => displayNumber(value, 0, "both", language);
  const place = ({ name, lat_deg, lon_deg, elevation_ft }: Call["from"]) => {
    const position = `${lat_deg.toFixed(4)}°, ${lon_deg.toFixed(4)}°`;
    return [
      name,
      ...(name.includes("°") ? [] : [position]),
      elevation_ft === null ? words.notKnown : amounts.height(elevation_ft, "higher"),
    ].join(", ");
  };
  const scene = call.stops.find(({ role }) => role === "scene");
  const hospital = call.stops.find(({ role }) => role === "hospital");
  const { wind, qnh_hPa, temperature } = call.air;
  const rows: readonly (readonly [string, string])[] = [
    ...(kept.typed === "" ? [] : [[words.typed, kept.typed] as const]),
    [words.operation, names.title("operation", call.operation)],
    [words.place, scene === undefined ? words.notKnown : place(scene.place)],
    [words.hospital, hospital === undefined ? words.notKnown : place(hospital.place)],
    [words.leaves, timeBoth(call.depart_ms, locale)],
    [words.fuel, amounts.mass(call.fuel_kg, "lower")],
    [
      words.patient,
      amounts.mass(scene?.boards.reduce((sum, { most_kg }) => sum + most_kg, 0) ?? 0, "higher"),
    ],
    [words.stay, `${number(scene?.stay_min ?? 0)} min`],
    [
      words.wind,
      wind === null
        ? words.notKnown
        : `${wind.from_deg === null ? words.anyDirection : `${number(wind.from_deg)}°`}, ${number(wind.speed_kt)} kt`,
    ],
    [words.qnh, qnh_hPa === null ? words.notKnown : `${number(qnh_hPa)} hPa`],
    [words.temperature, temperature === null ? words.notKnown : `${number(temperature.value_C)} °C`],
    ...(call.without.length === 0
      ? []
      : [[words.without, call.without.map((kit) => kitName(craft, kit)).join(", ")] as const]),
  ];
  return (
    <section className="opens">
      <h2 className="heading-small">{words.inputs}</h2>
      <dl className="call-inputs">
        {rows.map(([name, text]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{text}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
}

function ThenAndNow({ craft, known, kept, call }: Omit<PageProps, "onBack"> & { readonly call: Call }) {
  const { now_ms } = useSnapshot();
  const teller = useMarginTeller(craft);
  const { words } = teller;
  const { keeping: say } = words;
  const locale = useLocale();
  const minute_ms = Math.floor(now_ms / 60_000) * 60_000;
  const now = useMemo(
    () => assessCall(known, { ...call, depart_ms: Math.max(call.depart_ms, minute_ms) }),
    [known, call, minute_ms],
  );
  const then = kept.answer;
  const before: readonly ToldMargin[] = then?.margins ?? [];
  const changes =
    then === undefined ? [] : marginChanges(before, now.margins, (margin) => roomText(margin, teller));
  const binds = (margin: ToldMargin | undefined, stops: readonly { readonly name: string }[]) =>
    margin === undefined
      ? ""
      : `${words.binds(marginName(margin, stops, teller))}: ${roomText(margin, teller)}`;
  const time = (text: string | null) => (text === null ? "?" : timeOfDay(instantToMs(text), locale));
  return (
    <>
      {then !== undefined && (
        <section className="opens stack-tight">
          <h2 className="heading-small">{say.before}</h2>
          <p>
            <b>{words.verdict[kept.verdict]}</b>
          </p>
          <p className="small">{binds(before[0], then.stops)}</p>
          <ul className="rows">
            {then.stops.map(({ name, arrive, leave, fuel_kg }, index) => (
              // oxlint-disable-next-line react/no-array-index-key
              <li key={`${name} ${index}`} className="call-then">
                <span>{name}</span>
                <span className="mono small">
                  {[arrive ?? null, leave ?? null]
                    .flatMap((at) => (at === null ? [] : [time(at)]))
                    .join(" – ")}
                </span>
                <span className="mono small">
                  {fuel_kg === null
                    ? "?"
                    : fuel_kg < 0
                      ? words.noFuel
                      : teller.amounts.mass(fuel_kg, "lower")}
                </span>
              </li>
            ))}
          </ul>
        </section>
      )}
      <section className="opens stack-tight">
        <h2 className="heading-small">{say.now}</h2>
        <p>
          <b>{words.verdict[now.verdict]}</b>,{" "}
          {say.leavingNow(timeSeenFrom(now_ms, now.call.depart_ms, locale))}
        </p>
        <p className="small">{binds(now.margins[0], now.stops)}</p>
        {changes.length === 0 ? (
          <p>{say.same}</p>
        ) : (
          <Table
            caption={say.changed}
            rows={changes}
            rowId={({ before: old, now: fresh }) =>
              `${(fresh ?? old)?.kind} ${(fresh ?? old)?.stop} ${(fresh ?? old)?.leg} ${(fresh ?? old)?.what}`
            }
            columns={[
              {
                id: "what",
                head: say.column.what,
                kind: "name",
                cell: ({ before: old, now: fresh }) => marginName((fresh ?? old)!, now.stops, teller),
              },
              {
                id: "then",
                head: say.column.before,
                cell: ({ before: old }) => (old === null ? say.none : roomText(old, teller)),
              },
              {
                id: "now",
                head: say.column.now,
                cell: ({ now: fresh }) => (fresh === null ? say.none : roomText(fresh, teller)),
              },
            ]}
          />
        )}
      </section>
    </>
  );
}
