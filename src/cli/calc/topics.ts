// The topics of `preen calc`, in the order of the list. Each is loaded only when it is asked for, since start-up is
// paid on every call; so the one-line summaries stand here too, and a test holds them to the topics' own.

import type { Topic } from "./topic.ts";

export type TopicEntry = {
  readonly topic: string;
  readonly summary: string;
  load(): Promise<{ readonly default: Topic }>;
};

export const topics: readonly TopicEntry[] = [
  {
    topic: "air",
    summary: "pressure and density altitude and the air there, in the standard atmosphere",
    load: () => import("./air.ts"),
  },
  {
    topic: "wind",
    summary: "heading, ground speed and wind components for a track",
    load: () => import("./wind.ts"),
  },
  {
    topic: "radius",
    summary: "radius of action out along a track and back, and when to turn",
    load: () => import("./radius.ts"),
  },
  {
    topic: "geodesic",
    summary: "distance and azimuths of the shortest line between two places on WGS84",
    load: () => import("./geodesic.ts"),
  },
  {
    topic: "variation",
    summary: "magnetic variation and field by the World Magnetic Model",
    load: () => import("./variation.ts"),
  },
  {
    topic: "load",
    summary: "mass, centre of gravity, margins against the limits, and the whole burn",
    load: () => import("./load.ts"),
  },
  {
    topic: "chart",
    summary: "a performance chart read at given inputs, or solved for one of them",
    load: () => import("./chart.ts"),
  },
  {
    topic: "sequence",
    summary: "the cheapest order of places with precedence, and a bound that proves how good it is",
    load: () => import("./sequence.ts"),
  },
  {
    topic: "regression",
    summary: "least-squares line, its standard deviations and a prediction interval",
    load: () => import("./regression.ts"),
  },
  {
    topic: "trend",
    summary: "consumption per hour with uplifts accounted for, hours to the mark, and whether it has changed",
    load: () => import("./trend.ts"),
  },
  {
    topic: "weather",
    summary: "a METAR, SPECI or TAF read, every group of it accounted for",
    load: () => import("./weather.ts"),
  },
  {
    topic: "sun",
    summary: "dawn, sunrise, noon, sunset and dusk of the solar day whose noon falls on a date",
    load: () => import("./sun.ts"),
  },
  {
    topic: "light",
    summary: "altitude of the sun, and day or night by three rules, with the next change of each",
    load: () => import("./light.ts"),
  },
  {
    topic: "deadline",
    summary: "first and last day of a deferral, and the instant at which it lapses",
    load: () => import("./deadline.ts"),
  },
  {
    topic: "minima",
    summary: "whether a ceiling and a visibility meet a rule set's minima, and by which row",
    load: () => import("./minima.ts"),
  },
  {
    topic: "fuel",
    summary: "fuel that a flight needs at its start, by components and rule set",
    load: () => import("./fuel.ts"),
  },
];

export function findTopic(name: string): TopicEntry | undefined {
  return topics.find((entry) => entry.topic === name);
}
