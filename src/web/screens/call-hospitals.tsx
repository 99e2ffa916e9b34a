// Every hospital side by side, ranked by the whole answer: what it says, what binds first, when one is there, with how much
// fuel one lands there. One is chosen; until somebody does, it is the best.
import { timeOfDay } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { useLocale, useWords } from "../parts/words.tsx";
import type { CallDraft, RankedCall } from "./call-view.ts";
import { fuelText, marginName, roomText } from "./margin-words.ts";
import { useMarginTeller } from "./use-margin-teller.ts";

type HospitalsProps = {
  readonly craft: CraftView;
  readonly ranked: readonly RankedCall[];
  readonly chosen: RankedCall;
  readonly change: (part: Partial<CallDraft>) => void;
};

export function Hospitals({ craft, ranked, chosen, change }: HospitalsProps) {
  const teller = useMarginTeller(craft);
  const { words, amounts } = teller;
  const { units } = useWords();
  const locale = useLocale();
  const say = words.ranked;
  const [mass, distance] = [units[amounts.units.mass], units[amounts.units.distance]];
  const heads = [say.verdict, say.binds, say.arrive, say.landing(mass), say.distance(distance)];
  return (
    <section className="opens">
      <h2 className="heading-small">{words.hospitals}</h2>
      {ranked.every(({ hospital }) => hospital === null) ? (
        <p>{words.noHospital}</p>
      ) : (
        <table className="call-ranked">
          <caption className="hidden-but-said">{words.hospitals}</caption>
          <thead>
            <tr>
              {[say.name, ...heads].map((head) => (
                <th key={head} scope="col">
                  {head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {ranked.map(({ hospital, answer }) => {
              if (hospital === null) return null;
              const [binding] = answer.margins;
              const at = answer.stops.find(({ role }) => role === "hospital");
              const leg = answer.legs.find(({ to }) => to === hospital.name);
              const isChosen = hospital.site === chosen.hospital?.site;
              return (
                <tr key={hospital.site} data-chosen={isChosen || undefined}>
                  <th scope="row">
                    <button
                      type="button"
                      className="call-hospital"
                      aria-pressed={isChosen}
                      onClick={() => change({ hospital: hospital.site })}
                    >
                      {hospital.name}
                    </button>
                  </th>
                  <td>{words.verdict[answer.verdict]}</td>
                  <td className="small">
                    {binding === undefined
                      ? ""
                      : `${marginName(binding, answer.stops, teller)}: ${roomText(binding, teller)}`}
                  </td>
                  <td className="mono" data-head={say.arrive}>
                    {at?.arrive_ms == null ? "?" : timeOfDay(at.arrive_ms, locale)}
                  </td>
                  <td className="mono" data-head={say.landing(mass)}>
                    {at?.fuelAtArrival_kg == null ? "?" : fuelText(at.fuelAtArrival_kg, teller)}
                  </td>
                  <td className="mono" data-head={say.distance(distance)}>
                    {leg === undefined ? "?" : amounts.bare(leg.distance_nm, "distance", "higher")}
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      )}
    </section>
  );
}
