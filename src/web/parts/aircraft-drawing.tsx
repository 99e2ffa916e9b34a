// The aircraft as the map of a walk: the drawing, and over it one real button for each stop.
//
// The drawing itself says nothing to a screen reader; the buttons say every stop, its state and its findings. Buttons of
// neighbouring stops overlap, so a finger's tap goes to the stop nearest to it, whichever button it hit.
import { useMemo } from "react";
import type { MouseEvent } from "react";
import { drawAircraft, nameSize } from "../../present/drawing/aircraft-drawing.ts";
import type {
  AircraftDrawing as View,
  DrawingInput,
  StopPoint,
} from "../../present/drawing/aircraft-drawing.ts";
import type { Words } from "../../present/words/words.ts";
import { useWidth } from "./use-width.ts";
import { useWords } from "./words.tsx";

type AircraftDrawingProps = Omit<DrawingInput, "width" | "heading"> & {
  readonly heading?: DrawingInput["heading"];
  /** `places`: no walk is under way, so a stop is said without how far the walk has come. */
  readonly as?: "walk" | "places";
  readonly onStop: (id: string) => void;
};

export function AircraftDrawing({ onStop, heading = "left", as = "walk", ...input }: AircraftDrawingProps) {
  const words = useWords();
  const [ref, width] = useWidth<HTMLElement>(358);
  const { outline, stops, visited, here, ahead, open, findings, names } = input;
  const view = useMemo(
    () => drawAircraft({ outline, stops, visited, here, ahead, open, findings, names, width, heading }),
    [outline, stops, visited, here, ahead, open, findings, names, width, heading],
  );
  const goTo = (stop: StopPoint, event: MouseEvent<HTMLElement>) => {
    // A click by keyboard or screen reader has no place of its own: it means the button it came from.
    const list = event.detail === 0 ? null : event.currentTarget.closest("ol");
    if (list === null) return onStop(stop.id);
    const box = list.getBoundingClientRect();
    return onStop(nearest(view.stops, event.clientX - box.left, event.clientY - box.top) ?? stop.id);
  };
  return (
    <figure
      ref={ref}
      className="drawing"
      aria-label={as === "walk" ? words.walk.drawing.name : words.walk.drawing.places}
    >
      <DrawingPicture view={view} />
      <ol className="drawing-stops">
        {view.stops.map((stop) => (
          <li key={stop.id}>
            <button
              type="button"
              className="drawing-stop"
              style={{ left: stop.x, top: stop.y }}
              aria-label={stopName(stop, words, as)}
              aria-current={stop.state === "here" ? "location" : undefined}
              onClick={(event) => goTo(stop, event)}
            />
          </li>
        ))}
      </ol>
    </figure>
  );
}

function nearest(stops: readonly StopPoint[], x: number, y: number): string | undefined {
  const away = (stop: StopPoint) => Math.hypot(stop.x - x, stop.y - y);
  return stops.toSorted((a, b) => away(a) - away(b))[0]?.id;
}

function stopName({ name, state, findings }: StopPoint, { walk }: Words, as: "walk" | "places"): string {
  const details = [
    ...(as === "walk" || state === "here" ? [walk.drawing[state]] : []),
    ...(findings > 0 ? [walk.drawing.findings(findings)] : []),
  ];
  return walk.withDetails(name, details);
}

function DrawingPicture({ view }: { readonly view: View }) {
  const { shapes, here } = view;
  return (
    <svg
      width={view.width}
      height={view.height}
      viewBox={`0 0 ${view.width} ${view.height}`}
      aria-hidden="true"
    >
      <path className="drawing-gear" d={shapes.gear} />
      <path className="drawing-shape" d={shapes.boom} />
      <path className="drawing-shape" d={shapes.stabiliser} />
      <path className="drawing-shape" d={shapes.fin} />
      <path className="drawing-gear" d={shapes.tailRotor} />
      <path className="drawing-shape" d={shapes.body} />
      <path className="drawing-lines" d={shapes.lines} />
      <path className="drawing-lines" d={shapes.doors} />
      <path className="drawing-blades" d={shapes.blades} />
      <circle className="drawing-hub" cx={shapes.hub.x} cy={shapes.hub.y} r={shapes.hub.radius} />
      <path className="drawing-swings" d={shapes.swings} />
      <path className="drawing-open" d={shapes.openDoors} />
      <path className="drawing-lines" d={view.ladders} />
      <path className="drawing-to-come" d={view.toCome} />
      <path className="drawing-ticks" d={view.stopTicks} />
      <path className="drawing-walked" d={view.walked} />
      <path className="drawing-findings" d={view.findingTicks} />
      {here !== null && <circle className="drawing-here" cx={here[0]} cy={here[1]} r={8} />}
      {view.labels.map(({ id, lines, x, y, anchor, strong }) => (
        <text
          key={id}
          className="drawing-name"
          data-strong={strong || undefined}
          fontSize={nameSize}
          textAnchor={anchor}
        >
          {lines.map((line, index) => (
            <tspan key={line} x={x} y={y + index * nameSize * 1.12}>
              {line}
            </tspan>
          ))}
        </text>
      ))}
    </svg>
  );
}
