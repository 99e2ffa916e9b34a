import { plural } from "../plural.ts";
import type { lineScreen as english } from "../en/line-screen.ts";

export const lineScreen: typeof english = {
  together: "Alles zusammen",
  figure: (operation) => `${operation}, die nächsten 72 Stunden`,
  slider: "Eine Zeit auf der Linie",
  sliderHow: "Pfeiltasten gehen von Wechsel zu Wechsel",
  span: (from, until, verdict) => `${from} bis ${until}: ${verdict}`,
  from: "jetzt",
  farEnd: "so weit es bekannt ist",
  keptNote: "Punkte im Rahmen: so wäre es, wenn alles, was fällig wird, rechtzeitig erneuert wird.",
  nothingAgainst: "Nichts steht dagegen.",
  andMore: (count) => plural("de", count, { one: "und 1 weiteres", other: `und ${count} weitere` }),
  changes: "Was sie ändert, und was das verschieben würde",
  noChange: "Nichts ändert sie innerhalb von 72 Stunden.",
  becomes: (verdict) => verdict,
  numbersOnly: "andere Grenzen",
  lapses: (what) => `endet: ${what}`,
  byItself: "von selbst",
  help: {
    heading: "Was sie einsatzklar machen würde",
    now: (count) => plural("de", count, { one: "Eines ist zu tun", other: `${count} Dinge sind zu tun` }),
    later: (time, count) =>
      count === 0
        ? `Warten bis ${time}; dann steht nichts anderes im Weg`
        : `Warten bis ${time}, und bis dahin ${plural("de", count, { one: "eines", other: `${count} Dinge` })}`,
    none: "Nichts, was bekannt ist, macht sie innerhalb von 72 Stunden einsatzklar.",
    fewest: "Mit weniger geht es nicht, soweit es jetzt bekannt ist.",
    clears: (what) => `behebt: ${what}`,
  },
  fall: {
    heading: (craft) => `${craft} hat sich geändert`,
    line: (operation, verdict, time) => `${operation}: ${verdict} seit ${time}`,
    now: (verdict) => `jetzt wieder ${verdict}`,
    seen: "Gesehen",
    show: "Zeigen",
    sounds: "Es tönt, bis du es gesehen hast.",
    mute: "Der Ton ist auf diesem Gerät aus.",
    blocked: "Diese Seite darf erst tönen, wenn sie einmal berührt wurde.",
  },
  sound: {
    heading: "Wenn eine deiner Maschinen nicht mehr einsatzklar ist",
    on: "Ton",
    off: "kein Ton",
    note: "Es wird in jedem Fall gezeigt und tönt, bis es jemand gesehen hat.",
    try: "Ton probieren",
  },
};
