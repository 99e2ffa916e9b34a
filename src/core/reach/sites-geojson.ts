// Reads the operator's sites from GeoJSON (RFC 7946): a FeatureCollection of points, and polygons of land if it draws any.
//
// A point's position is [longitude, latitude] and, where it has a third number, metres above the ellipsoid, which is no
// elevation and is not taken for one. Properties: `id`, `name`, `kind` (hospital, landingSite, base), `elevation_ft` or
// `elevation_m` above mean sea level, `width_m` and `length_m` (the smaller side and the larger; alone, the width is both) or
// `size_m` (a diameter, or the side of a square), `lit`, `fuel`, `notes`; a polygon or multipolygon has `kind` land. Other
// properties are left alone, as the standard has it.
// Refused whole, with every issue at once: another type, a position off the globe, an id given twice, a unit given twice,
// a ring that is not closed. No coordinates but WGS84 (section 4).
import type { LandRing, Site, SiteFile, SiteKind } from "../facts/site.ts";
import { siteKinds } from "../facts/site.ts";
import { atIndex, atKey, describe, type Issue, Refusal } from "../quantity/refusal.ts";
import { convert, inUnit } from "../quantity/units.ts";

type Json = { readonly [key: string]: unknown };

const isObject = (value: unknown): value is Json =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** Refuses (Refusal) a file that is not such a collection. */
export function readSites(file: unknown): SiteFile {
  const issues: Issue[] = [];
  const say = (path: string, found: unknown, wanted: string, code: Issue["code"] = "wrongKind"): null => {
    issues.push({ path, code, found: describe(found), wanted });
    return null;
  };
  const sites: Site[] = [];
  const land: (readonly LandRing[])[] = [];
  const features = isObject(file) && file["type"] === "FeatureCollection" ? file["features"] : null;
  if (!Array.isArray(features)) say("", file, "a GeoJSON FeatureCollection with features");
  for (const [index, feature] of (Array.isArray(features) ? features : []).entries()) {
    const path = atIndex("features", index);
    if (!isObject(feature) || feature["type"] !== "Feature") {
      say(path, feature, "a Feature");
      continue;
    }
    const { geometry, properties } = feature;
    if (!isObject(geometry)) say(atKey(path, "geometry"), geometry, "a geometry");
    else if (!isObject(properties)) say(atKey(path, "properties"), properties, "an object of properties");
    else if (geometry["type"] === "Point") {
      const site = siteOf(geometry, properties, path, say);
      if (site === null) continue;
      if (sites.some(({ id }) => id === site.id))
        say(atKey(path, "properties.id"), site.id, "each id once", "givenTwice");
      sites.push(site);
    } else land.push(...landOf(geometry, properties, path, say));
  }
  const [first, ...others] = issues;
  if (first !== undefined) throw new Refusal([first, ...others]);
  return { sites, land };
}

type Say = (path: string, found: unknown, wanted: string, code?: Issue["code"]) => null;

const idForm = /^[A-Za-z][A-Za-z0-9.-]{0,63}$/u;

function siteOf(geometry: Json, properties: Json, path: string, say: Say): Site | null {
  const at = positionOf(geometry["coordinates"], atKey(path, "geometry.coordinates"), say);
  const where = (key: string): string => atKey(path, `properties.${key}`);
  const { id, name, kind, notes } = properties;
  if (typeof id !== "string" || !idForm.test(id))
    say(where("id"), id, "a letter, then letters, digits, dots or hyphens");
  if (typeof name !== "string" || !/\S/u.test(name)) say(where("name"), name, "a name");
  if (!siteKinds.includes(kind as SiteKind)) say(where("kind"), kind, `one of ${siteKinds.join(", ")}`);
  if (notes !== undefined && typeof notes !== "string") say(where("notes"), notes, "a text");
  const known = (key: string): unknown => properties[key] ?? null;
  const flag = (key: string): boolean | null => {
    const value = known(key);
    return value === null || typeof value === "boolean" ? value : say(where(key), value, "true or false");
  };
  const measure = (key: string, low: number, high: number): number | null => {
    const value = known(key);
    if (value === null || (typeof value === "number" && value >= low && value <= high)) return value;
    return say(where(key), value, `a number of ${low} … ${high}`, "outsideDomain");
  };
  const feet = measure("elevation_ft", -1_500, 20_000);
  const metres = measure("elevation_m", -450, 6_000);
  if (feet !== null && metres !== null) say(where("elevation_m"), metres, "one elevation", "givenTwice");
  const [width_m, length_m] = sidesOf(measure, where, say);
  if (at === null) return null;
  return {
    id: String(id),
    name: String(name),
    kind: kind as SiteKind,
    lat_deg: at[1],
    lon_deg: at[0],
    elevation_ft: feet ?? (metres === null ? null : convert(inUnit(metres, "m"), "m", "ft")),
    width_m,
    length_m,
    lit: flag("lit"),
    fuel: flag("fuel"),
    notes: typeof notes === "string" ? notes : "",
  };
}

type Measure = (key: string, low: number, high: number) => number | null;

/** The smaller side and the larger; both null where nobody says. */
function sidesOf(
  measure: Measure,
  where: (key: string) => string,
  say: Say,
): readonly [number | null, number | null] {
  const [size, width, length] = [
    measure("size_m", 1, 2_000),
    measure("width_m", 1, 2_000),
    measure("length_m", 1, 2_000),
  ];
  if (size !== null) {
    if (width !== null || length !== null)
      say(where("size_m"), size, "either one size, or width and length", "givenTwice");
    return [size, size];
  }
  if (width === null) {
    if (length !== null) say(where("length_m"), length, "the width as well, which is the smaller side");
    return [null, null];
  }
  if (length !== null && length < width)
    say(where("length_m"), length, `at least the width of ${width} m`, "outsideDomain");
  return [width, length ?? width];
}

function positionOf(value: unknown, path: string, say: Say): readonly [number, number] | null {
  const isPosition =
    Array.isArray(value) &&
    value.length >= 2 &&
    value.every((part) => typeof part === "number" && Number.isFinite(part));
  if (!isPosition) return say(path, value, "a position [longitude, latitude]");
  const [lon, lat] = value as [number, number];
  if (Math.abs(lat) > 90 || Math.abs(lon) > 180)
    return say(path, value, "a longitude of −180 … 180 first, then a latitude of −90 … 90", "outsideDomain");
  return [lon, lat];
}

function landOf(geometry: Json, properties: Json, path: string, say: Say): (readonly LandRing[])[] {
  const where = atKey(path, "geometry.coordinates");
  if (properties["kind"] !== "land")
    say(atKey(path, "properties.kind"), properties["kind"], "land, for a polygon");
  const { type, coordinates } = geometry;
  const polygons = type === "Polygon" ? [coordinates] : type === "MultiPolygon" ? coordinates : null;
  if (!Array.isArray(polygons)) {
    say(atKey(path, "geometry.type"), type, "a Point, Polygon or MultiPolygon");
    return [];
  }
  return polygons.map((rings: unknown) => {
    if (!Array.isArray(rings) || rings.length === 0) {
      say(where, rings, "rings of positions");
      return [];
    }
    return rings.map((ring: unknown): LandRing => ringOf(ring, where, say));
  });
}

function ringOf(ring: unknown, path: string, say: Say): LandRing {
  if (!Array.isArray(ring) || ring.length < 4) {
    say(path, ring, "a ring of at least four positions");
    return [];
  }
  const positions = ring.flatMap((position: unknown) => {
    const read = positionOf(position, path, say);
    return read === null ? [] : [read];
  });
  const [first, last] = [positions[0], positions.at(-1)];
  if (first !== undefined && last !== undefined && (first[0] !== last[0] || first[1] !== last[1]))
    say(path, ring.length, "a ring whose last position is its first");
  return positions;
}
