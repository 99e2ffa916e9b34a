// What a load comes to: the verdict of its numbers in words, the room to each limit as bars, both envelopes with the burn,
// and what would make it fit.
import type { Flight } from "../../core/load/from-sheet.ts";
import type { FlightJudgement } from "../../core/load/judge-loading.ts";
import { displayNumber, roundForDisplay } from "../../core/quantity/display.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import type { Names } from "../../present/names.ts";
import { type ArmMass, type EnvelopePlot, plotEnvelope } from "../../present/plots/envelope-plot.ts";
import { Button } from "../parts/button.tsx";
import { useWidth } from "../parts/use-width.ts";
import { useLocale } from "../parts/words.tsx";
import {
  type Answer,
  coupledPlots,
  drawnBand,
  drawnTrack,
  isInsideAll,
  marginsOf,
  worstState,
} from "./loading-view.ts";
import type { LoadingWords } from "../../present/words/loading-words.ts";
import { useLoadingWords } from "./use-loading-words.ts";
import type { MassWords } from "./mass-unit.ts";

function useMillimetres() {
  const { language } = useLocale();
  return (metres: number, worse: "lower" | "higher") =>
    `${displayNumber(metres * 1000, 0, worse, language)}\u00a0mm`;
}

type VerdictProps = {
  readonly answer: Answer;
  readonly judged: FlightJudgement | null;
  readonly names: Names;
  readonly mass: MassWords;
};

/** Said aloud whenever it changes. */
export function LoadVerdict({ answer, judged, names, mass }: VerdictProps) {
  const words = useLoadingWords();
  const mm = useMillimetres();
  const { answer: say } = words;
  const lines: string[] = [];
  let title: string = say.unknown;
  if (answer.kind === "refused") {
    title = say.cannot;
    lines.push(...answer.issues.slice(0, 3).map(({ path, found, wanted }) => `${path}: ${found}; ${wanted}`));
  }
  if (judged !== null) {
    title = titleOf(judged, words, mass);
    const { start } = judged.heaviest.track;
    const { end } = judged.outbound.track;
    const worst = worstState(judged);
    if (worst !== null) {
      const fuel = mass.text(worst.fuel_kg, "both");
      const axis = say.axis[worst.axis];
      if (worst.margin_m === null) lines.push(say.beyond(fuel));
      else if (roundForDisplay(worst.margin_m, 4, "lower") < 0)
        lines.push(say.worstOut(axis, fuel, mm(-worst.margin_m, "higher")));
      else lines.push(say.worst(axis, fuel, mm(worst.margin_m, "lower")));
    }
    lines.push(say.mass(mass.text(start.mass_kg, "higher"), mass.text(end.mass_kg, "higher")));
    for (const { id, loaded_kg, most_kg, met } of judged.heaviest.places) {
      if (met) continue;
      const [block = "", place = id] = id.split(".");
      const kind = ({ seats: "seat", stretchers: "stretcher", compartments: "compartment" } as const)[block];
      const name = kind === undefined ? place : names.title(kind, place);
      lines.push(say.place(name, mass.text(loaded_kg, "higher"), mass.text(most_kg, "lower")));
    }
  }
  return (
    <output className="load-verdict">
      <b className="head">{title}</b>
      {lines.map((line) => (
        <span key={line}>{line}</span>
      ))}
    </output>
  );
}

function titleOf(judged: FlightJudgement, words: LoadingWords, mass: MassWords): string {
  const { answer: say } = words;
  if (judged.outbound.inside === null) return say.unknown;
  if (!judged.outbound.inside) return say.outside;
  const [patient, ...others] = judged.patients;
  if (isInsideAll(judged)) {
    return patient === undefined || others.length > 0
      ? say.inside
      : say.insideAll(mass.text(patient.most_kg, "lower"));
  }
  return patient === undefined || others.length > 0
    ? say.outside
    : say.patientUpTo(mass.text(patient.safeUpTo_kg ?? 0, "lower"));
}

type OneFlight = { readonly sheet: Sheet; readonly judged: FlightJudgement; readonly mass: MassWords };

/** Each bar grows from its limit inwards; what is beyond is hatched on the other side. */
export function LoadMargins({ judged, mass }: OneFlight) {
  const words = useLoadingWords();
  const mm = useMillimetres();
  const margins = marginsOf(judged);
  const arms = [margins.forward_m, margins.aft_m, margins.left_m, margins.right_m];
  const longest_m = Math.max(0.05, ...arms.map((margin) => Math.abs(margin ?? 0)));
  const most_kg = Math.max(500, Math.abs(margins.heavier_kg ?? 0));
  const rows = [
    {
      name: words.margin.mass,
      value: margins.heavier_kg,
      share: (margins.heavier_kg ?? 0) / most_kg,
      text: (value: number, worse: "lower" | "higher") => mass.text(value, worse),
    },
    ...(["forward", "aft", "left", "right"] as const).map((side, index) => ({
      name: words.margin[side],
      value: arms[index] ?? null,
      share: (arms[index] ?? 0) / longest_m,
      text: mm,
    })),
  ];
  return (
    <section>
      <h2 className="heading-small">{words.margins}</h2>
      <ul className="load-margins">
        {rows.map(({ name, value, share, text }) => (
          <li key={name}>
            <span>{name}</span>
            <span className="load-bar" data-beyond={(value ?? -1) < 0 || undefined} aria-hidden="true">
              <span style={{ inlineSize: `${Math.min(100, Math.abs(share) * 100)}%` }} />
            </span>
            <span className="mono load-margin">
              {value === null
                ? words.none
                : value < 0
                  ? words.over(text(-value, "higher"))
                  : text(value, "lower")}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

const plotHeight = 300;

export function LoadEnvelope({ sheet, judged, mass, axis }: OneFlight & { readonly axis: "x_m" | "y_m" }) {
  const words = useLoadingWords();
  const mm = useMillimetres();
  const [ref, width] = useWidth<HTMLElement>(340);
  const limit = axis === "x_m" ? judged.case.limits.longitudinal : judged.case.limits.lateral;
  if (limit === null) return null;
  const worst = worstState(judged);
  const isWorstHere = worst !== null && worst.axis === (axis === "x_m" ? "longitudinal" : "lateral");
  // Drawn in the unit that is shown, so that its steps are round.
  const inUnit = ([arm_m, mass_kg]: ArmMass): ArmMass => [arm_m, mass.toUnit(mass_kg)];
  const plot = plotEnvelope({
    limit: limit.corners.map(inUnit),
    track: drawnTrack(judged.heaviestCase, axis).map(inUnit),
    band: drawnBand(sheet, judged, axis).map(inUnit),
    worst: isWorstHere ? inUnit([worst[axis], worst.mass_kg]) : null,
    width,
    height: plotHeight,
  });
  const isRight = plot.worst !== null && plot.worst[0] > (plot.left + plot.right) / 2;
  const name = axis === "x_m" ? words.plot.longitudinal : words.plot.lateral;
  const [before, after] =
    axis === "x_m" ? [words.plot.forward, words.plot.aft] : [words.plot.left, words.plot.right];
  const { start, end, inside } = judged.heaviest.track;
  const isInside = axis === "x_m" ? inside.longitudinal === true : inside.lateral === true;
  const state = (at: typeof start) => `${mm(at[axis], "lower")}, ${mass.text(at.mass_kg, "higher")}`;
  return (
    <figure ref={ref} className="load-plot">
      <figcaption className="heading-small">{name}</figcaption>
      <p className="hidden-but-said">{words.plot.describe(name, state(start), state(end), isInside)}</p>
      <svg width={width} height={plotHeight} viewBox={`0 0 ${width} ${plotHeight}`} aria-hidden="true">
        <Axes plot={plot} before={before} after={after} upDecimals={0} />
        <text x={plot.left - 6} y={plot.top - 3} textAnchor="end">
          {mass.unit}
        </text>
        <path className="load-band" d={plot.band} />
        <path className="load-limit" d={plot.limit} />
        <path className="load-track" d={plot.track} />
        {plot.start !== null && <circle className="load-start" cx={plot.start[0]} cy={plot.start[1]} r={5} />}
        {plot.worst !== null && (
          <>
            <circle className="load-worst" cx={plot.worst[0]} cy={plot.worst[1]} r={10} />
            <text
              className="load-said"
              x={plot.worst[0] + (isRight ? -15 : 15)}
              y={plot.worst[1] + 5}
              textAnchor={isRight ? "end" : "start"}
            >
              {worst?.margin_m == null || worst.margin_m < 0 ? words.plot.furthest : words.plot.worst}
            </text>
          </>
        )}
      </svg>
    </figure>
  );
}

type AxesProps = {
  readonly plot: EnvelopePlot;
  readonly before: string;
  readonly after: string;
  readonly upDecimals: number;
};

/** Arms along the bottom in metres, with what lies at either end; lines across with their numbers on the left. */
function Axes({ plot, before, after, upDecimals }: AxesProps) {
  const { language } = useLocale();
  const foot = plotHeight - 8;
  return (
    <>
      {plot.masses.map(({ at, value }) => (
        <g key={value}>
          <path className="load-grid" d={`M${plot.left} ${at}H${plot.right}`} />
          <text x={plot.left - 6} y={at + 4} textAnchor="end">
            {displayNumber(value, upDecimals, "both", language)}
          </text>
        </g>
      ))}
      {plot.arms.map(({ at, value }) => (
        <g key={value}>
          <path className="load-grid" d={`M${at} ${plot.bottom}V${plot.bottom + 5}`} />
          <text x={at} y={plot.bottom + 18} textAnchor="middle">
            {displayNumber(value, 2, "both", language)}
          </text>
        </g>
      ))}
      <text x={plot.left} y={foot}>{`← ${before}`}</text>
      <text x={plot.right} y={foot} textAnchor="end">{`${after} →`}</text>
      <text x={(plot.left + plot.right) / 2} y={foot} textAnchor="middle">
        m
      </text>
    </>
  );
}

/** The limits on both axes together, seen from above, for each that holds at a mass of this burn. */
export function LoadCoupled({ judged, mass }: Pick<OneFlight, "judged" | "mass">) {
  const words = useLoadingWords();
  const [ref, width] = useWidth<HTMLDivElement>(340);
  const plots = coupledPlots(judged);
  if (plots.length === 0) return null;
  const isInside = judged.heaviest.track.inside.coupled === true;
  return (
    <div ref={ref}>
      {plots.map(({ limit, track, above_kg, upTo_kg }) => {
        const name = words.plot.coupled(mass.text(above_kg, "both"), mass.text(upTo_kg, "both"));
        const plot = plotEnvelope({ limit, track, band: [], worst: null, width, height: plotHeight });
        return (
          <figure className="load-plot" key={`${above_kg} ${upTo_kg}`}>
            <figcaption className="heading-small">{name}</figcaption>
            <p className="hidden-but-said">{words.plot.describeBoth(name, isInside)}</p>
            <svg width={width} height={plotHeight} viewBox={`0 0 ${width} ${plotHeight}`} aria-hidden="true">
              <Axes plot={plot} before={words.plot.forward} after={words.plot.aft} upDecimals={2} />
              <text x={plot.left - 6} y={plot.bottom + 18} textAnchor="end">{`${words.plot.left} ↓`}</text>
              <text x={plot.left - 6} y={plot.top - 3} textAnchor="end">{`${words.plot.right} ↑`}</text>
              <path className="load-limit" d={plot.limit} />
              <path className="load-track" d={plot.track} />
              {plot.start !== null && (
                <circle className="load-start" cx={plot.start[0]} cy={plot.start[1]} r={5} />
              )}
            </svg>
          </figure>
        );
      })}
    </div>
  );
}

/** A change that would make the load fit, with the button that takes it. */
export type Fit = { readonly id: string; readonly text: string; readonly take: (() => void) | null };

export function LoadFits({ fits, flight }: { readonly fits: readonly Fit[]; readonly flight: Flight }) {
  const words = useLoadingWords();
  return (
    <section aria-label={`${words.fits}, ${words.flight[flight]}`}>
      <h2 className="heading-small">{words.fits}</h2>
      <ul className="rows">
        {fits.map(({ id, text, take }) => (
          <li key={id} className="load-fit">
            <span>{text}</span>
            {take !== null && (
              <Button onPress={take} label={`${words.take}: ${text}`}>
                {words.take}
              </Button>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}
