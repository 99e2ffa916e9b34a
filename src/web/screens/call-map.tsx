// The operator's land and sites as a plain picture, on which a tap is a place. Whoever does not see it types the place, or
// chooses a site by name: nothing is only here.
import type { Position } from "../../core/air/position.ts";
import type { CallKnown, CallPlace } from "../../core/reach/call.ts";
import { fromMap, halfFor, landPath, toMap } from "../../present/plots/place-map.ts";
import type { MapFrame } from "../../present/plots/place-map.ts";
import { useWidth } from "../parts/use-width.ts";
import { useCallWords } from "./use-call-words.ts";

type CallMapProps = {
  readonly known: CallKnown;
  readonly base: CallPlace;
  readonly scene: CallPlace | null;
  readonly hospital: CallPlace | null;
  readonly onTap: (at: Position) => void;
};

const tallest = 520;

export function CallMap({ known, base, scene, hospital, onTap }: CallMapProps) {
  const words = useCallWords();
  const [ref, width] = useWidth<HTMLDivElement>(340);
  const frame: MapFrame = {
    middle: base,
    half_nm: halfFor(base, known.sites),
    width,
    height: Math.min(width, tallest),
  };
  const way = [base, scene, hospital, base].filter((place) => place !== null);
  return (
    <div ref={ref} className="call-map">
      {/* Every place can be typed or chosen by name above: the tap is a short cut for a finger. */}
      {/* oxlint-disable-next-line jsx-a11y/click-events-have-key-events, jsx-a11y/no-noninteractive-element-interactions */}
      <svg
        role="img"
        aria-label={words.map}
        width={frame.width}
        height={frame.height}
        viewBox={`0 0 ${frame.width} ${frame.height}`}
        onClick={({ clientX, clientY, currentTarget }) => {
          const box = currentTarget.getBoundingClientRect();
          onTap(fromMap(frame, { x: clientX - box.left, y: clientY - box.top }));
        }}
      >
        <path className="map-land" fillRule="evenodd" d={landPath(frame, known.land)} />
        {scene !== null && (
          <polyline
            className="map-way"
            points={way
              .map((place) => toMap(frame, place))
              .map(({ x, y }) => `${x.toFixed(1)},${y.toFixed(1)}`)
              .join(" ")}
          />
        )}
        <Sites known={known} frame={frame} />
        <Mark frame={frame} at={base} kind="base" />
        {scene !== null && <Mark frame={frame} at={scene} kind="scene" />}
      </svg>
      <p className="quiet small">{words.mapCaution}</p>
    </div>
  );
}

/** Hospitals by a cross in a square and their name, other sites by a small square. */
export function Sites({
  known,
  frame,
}: {
  readonly known: Pick<CallKnown, "sites">;
  readonly frame: MapFrame;
}) {
  return known.sites.map((site) => {
    const { x, y } = toMap(frame, site);
    const isHospital = site.kind === "hospital";
    const half = isHospital ? 6 : 3;
    // Letters of 13.5 px are about half as wide.
    const toLeft = x + 10 + site.name.length * 7.2 > frame.width;
    return (
      <g key={site.id} className="map-site">
        <rect
          x={x - half}
          y={y - half}
          width={2 * half}
          height={2 * half}
          data-solid={!isHospital || undefined}
        />
        {isHospital && (
          <>
            <path d={`M${x - 3} ${y}H${x + 3}M${x} ${y - 3}V${y + 3}`} />
            <text x={x + (toLeft ? -10 : 10)} y={y + 4} textAnchor={toLeft ? "end" : "start"}>
              {site.name}
            </text>
          </>
        )}
      </g>
    );
  });
}

export function Mark({
  frame,
  at,
  kind,
}: {
  readonly frame: MapFrame;
  readonly at: Position;
  readonly kind: "base" | "scene";
}) {
  const { x, y } = toMap(frame, at);
  if (kind === "base") return <circle className="map-base" cx={x} cy={y} r={4.5} />;
  return (
    <g className="map-scene">
      <circle cx={x} cy={y} r={9} />
      <path
        d={`M${x - 14} ${y}H${x - 5}M${x + 5} ${y}H${x + 14}M${x} ${y - 14}V${y - 5}M${x} ${y + 5}V${y + 14}`}
      />
    </g>
  );
}
