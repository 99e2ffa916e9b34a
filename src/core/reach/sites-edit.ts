// Changing one site in a file of sites, and what differs between two files, so that a second person sees it before a release.
//
// Everything in the file that is not the thing that is changed stays as it was: other features, other members, properties
// that nobody here reads, and keys whose value is the same. In: GeoJSON that `readSites` reads; out: GeoJSON likewise.
import type { Site } from "../facts/site.ts";
import { readSites } from "./sites-geojson.ts";

type Json = { readonly [key: string]: unknown };
type Feature = { readonly geometry: Json; readonly properties: Json; readonly [key: string]: unknown };
type Collection = { readonly features: readonly Feature[]; readonly [key: string]: unknown };

const emptyFile: Collection = { type: "FeatureCollection", features: [] };

const collectionOf = (file: unknown): Collection => (file ?? emptyFile) as Collection;
const isPoint = ({ geometry }: Feature): boolean => geometry["type"] === "Point";
const idOf = ({ properties }: Feature): string => String(properties["id"]);

/** The keys by which a file says each thing that a site has. */
const keysOf = {
  name: ["name"],
  kind: ["kind"],
  elevation_ft: ["elevation_ft", "elevation_m"],
  sides: ["size_m", "width_m", "length_m"],
  lit: ["lit"],
  fuel: ["fuel"],
  notes: ["notes"],
} as const;

function saidOf(site: Site): Readonly<Record<keyof typeof keysOf, Json>> {
  const one = (key: string, value: unknown): Json => (value === null || value === "" ? {} : { [key]: value });
  return {
    name: one("name", site.name),
    kind: one("kind", site.kind),
    elevation_ft: one("elevation_ft", site.elevation_ft),
    sides: { ...one("width_m", site.width_m), ...one("length_m", site.length_m) },
    lit: one("lit", site.lit),
    fuel: one("fuel", site.fuel),
    notes: one("notes", site.notes),
  };
}

/** The file with this site in it, in the place of the one of its id, or as the last. Null for no file yet. */
export function withSite(file: unknown, site: Site): unknown {
  const collection = collectionOf(file);
  const at = collection.features.findIndex((feature) => isPoint(feature) && idOf(feature) === site.id);
  const old = collection.features[at];
  const feature = old === undefined ? newFeature(site) : changed(old, site);
  const features =
    old === undefined ? [...collection.features, feature] : collection.features.with(at, feature);
  return { ...collection, features };
}

function newFeature(site: Site): Feature {
  const said = Object.fromEntries(Object.values(saidOf(site)).flatMap((each) => Object.entries(each)));
  return {
    type: "Feature",
    properties: { id: site.id, ...said },
    geometry: { type: "Point", coordinates: [site.lon_deg, site.lat_deg] },
  };
}

function changed(feature: Feature, site: Site): Feature {
  const [old] = readSites({ ...emptyFile, features: [feature] }).sites;
  const [before, after] = [saidOf(old!), saidOf(site)];
  let properties: Json = feature.properties;
  for (const matter of Object.keys(keysOf) as (keyof typeof keysOf)[]) {
    if (same(before[matter], after[matter])) continue;
    const gone: readonly string[] = keysOf[matter];
    const kept = Object.entries(properties).filter(([key]) => !gone.includes(key));
    properties = { ...Object.fromEntries(kept), ...after[matter] };
  }
  const isMoved = old!.lat_deg !== site.lat_deg || old!.lon_deg !== site.lon_deg;
  // A third number is a height above the ellipsoid at the old place: it says nothing of the new one.
  const geometry = isMoved
    ? { ...feature.geometry, coordinates: [site.lon_deg, site.lat_deg] }
    : feature.geometry;
  return { ...feature, properties, geometry };
}

export function withoutSite(file: unknown, id: string): unknown {
  const collection = collectionOf(file);
  return {
    ...collection,
    features: collection.features.filter((feature) => !(isPoint(feature) && idOf(feature) === id)),
  };
}

export type SiteFieldChange = { readonly key: string; readonly before: unknown; readonly after: unknown };

export type SiteChange = {
  readonly id: string;
  readonly name: string;
  /** A site, a piece of land, or a member of the file itself. */
  readonly what: "site" | "land" | "file";
  readonly how: "added" | "removed" | "changed";
  /** Undefined where there is none. Every property, whether anybody here reads it or not. */
  readonly fields: readonly SiteFieldChange[];
};

/** Everything in which two files differ; null for no file. */
export function sitesDiff(before: unknown, after: unknown): readonly SiteChange[] {
  const [old, next] = [collectionOf(before), collectionOf(after)];
  const named = (feature: Feature): string =>
    String(feature.properties["name"] ?? feature.properties["kind"]);
  const pointsOf = ({ features }: Collection) =>
    new Map(features.filter(isPoint).map((feature) => [idOf(feature), feature]));
  const [oldPoints, nextPoints] = [pointsOf(old), pointsOf(next)];
  const ids = [...new Set([...oldPoints.keys(), ...nextPoints.keys()])];
  const sites = ids.flatMap((id): SiteChange[] => {
    const [was, is] = [oldPoints.get(id), nextPoints.get(id)];
    const fields = fieldsOf(was, is);
    if (fields.length === 0) return [];
    const how = was === undefined ? "added" : is === undefined ? "removed" : "changed";
    return [{ id, name: named((is ?? was)!), what: "site", how, fields }];
  });
  const others = ({ features }: Collection) => features.filter((feature) => !isPoint(feature));
  const [oldOthers, nextOthers] = [others(old), others(next)];
  const missing = (from: readonly Feature[], all: readonly Feature[], how: SiteChange["how"]) =>
    from
      .filter((feature) => !all.some((other) => same(feature, other)))
      .map((feature): SiteChange => ({
        id: named(feature),
        name: named(feature),
        what: "land",
        how,
        fields: [],
      }));
  const members = fieldsIn(withoutFeatures(old), withoutFeatures(next));
  return [
    ...sites,
    ...missing(oldOthers, nextOthers, "removed"),
    ...missing(nextOthers, oldOthers, "added"),
    ...(members.length === 0 || before == null
      ? []
      : [{ id: "", name: "", what: "file", how: "changed", fields: members } as const]),
  ];
}

const withoutFeatures = ({ features: _features, ...members }: Collection): Json => members;

function fieldsOf(was: Feature | undefined, is: Feature | undefined): readonly SiteFieldChange[] {
  const all = (feature: Feature | undefined): Json => {
    if (feature === undefined) return {};
    const { properties, geometry, ...others } = feature;
    const { type: _type, ...foreign } = others;
    return { ...foreign, ...properties, position: geometry["coordinates"] };
  };
  return fieldsIn(all(was), all(is));
}

function fieldsIn(was: Json, is: Json): readonly SiteFieldChange[] {
  const keys = [...new Set([...Object.keys(was), ...Object.keys(is)])];
  return keys.flatMap((key) => (same(was[key], is[key]) ? [] : [{ key, before: was[key], after: is[key] }]));
}

/** The same value; the order of an object's keys says nothing. */
function same(one: unknown, other: unknown): boolean {
  if (Object.is(one, other)) return true;
  if (typeof one !== "object" || typeof other !== "object" || one === null || other === null) return false;
  if (Array.isArray(one) !== Array.isArray(other)) return false;
  const [a, b] = [one as Json, other as Json];
  const keys = Object.keys(a);
  return (
    keys.length === Object.keys(b).length &&
    keys.every((key) => Object.hasOwn(b, key) && same(a[key], b[key]))
  );
}
