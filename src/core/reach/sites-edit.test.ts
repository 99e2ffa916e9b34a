import { describe, expect, test } from "vitest";
import sitesFile from "../../../demo/sites.json" with { type: "json" };
import { readSites } from "./sites-geojson.ts";
import { sitesDiff, withoutSite, withSite } from "./sites-edit.ts";

const pad = {
  type: "Feature",
  id: 7,
  properties: {
    id: "pad",
    name: "Pad",
    kind: "hospital",
    elevation_m: 30,
    size_m: 28,
    lit: true,
    owner: "port",
  },
  geometry: { type: "Point", coordinates: [12.5, 70.2, 61] },
};
const file = { type: "FeatureCollection", note: "ours", features: [pad, sitesFile.features[0]] };
const site = readSites(file).sites[0]!;

describe("a file of sites", () => {
  test("with a site put into it as it was is the same file", () => {
    expect(withSite(file, site)).toEqual(file);
    let all: unknown = sitesFile;
    for (const one of readSites(sitesFile).sites) all = withSite(all, one);
    expect(all).toEqual(sitesFile);
  });

  test("keeps all that was not changed, also what nobody reads", () => {
    const next = withSite(file, { ...site, width_m: 28, length_m: 60, notes: "wires" });
    expect(next).toEqual({
      ...file,
      features: [
        {
          ...pad,
          properties: {
            id: "pad",
            name: "Pad",
            kind: "hospital",
            elevation_m: 30,
            lit: true,
            owner: "port",
            width_m: 28,
            length_m: 60,
            notes: "wires",
          },
        },
        file.features[1],
      ],
    });
    expect(readSites(next).sites[0]).toMatchObject({
      width_m: 28,
      length_m: 60,
      elevation_ft: site.elevation_ft,
    });
  });

  test("a height above the ellipsoid does not move with a site; a value taken back is gone", () => {
    const next = withSite(file, { ...site, lat_deg: 70.3, lit: null, elevation_ft: null });
    expect(next).toMatchObject({ features: [{ geometry: { coordinates: [12.5, 70.3] } }, {}] });
    expect(readSites(next).sites[0]).toMatchObject({ lit: null, elevation_ft: null, lat_deg: 70.3 });
  });

  test("takes a new site last, and gives one up", () => {
    const next = withSite(file, { ...site, id: "field", name: "Field", kind: "landingSite" });
    expect(readSites(next).sites.map(({ id }) => id)).toEqual(["pad", "field"]);
    expect(withoutSite(next, "field")).toEqual(file);
    expect(readSites(withSite(null, site)).sites).toEqual([site]);
  });
});

describe("what differs between two files", () => {
  test("is nothing for the same, in whichever order", () => {
    expect(sitesDiff(file, structuredClone(file))).toEqual([]);
    const turned = { features: [...file.features].reverse(), note: "ours", type: "FeatureCollection" };
    expect(sitesDiff(file, turned)).toEqual([]);
  });

  test("is told by site and by property, before and after, also those that nobody reads", () => {
    const moved = {
      ...pad,
      properties: { ...pad.properties, lit: false, owner: "town" },
      geometry: { type: "Point", coordinates: [12.6, 70.2] },
    };
    expect(sitesDiff(file, { ...file, features: [moved, file.features[1]] })).toEqual([
      {
        id: "pad",
        name: "Pad",
        what: "site",
        how: "changed",
        fields: [
          { key: "lit", before: true, after: false },
          { key: "owner", before: "port", after: "town" },
          { key: "position", before: [12.5, 70.2, 61], after: [12.6, 70.2] },
        ],
      },
    ]);
  });

  test("tells sites and land that came or went, and what the file says of itself", () => {
    const next = { ...(withoutSite(file, "pad") as object), note: "theirs", features: [] };
    expect(sitesDiff(file, next).map(({ what, how, name }) => [what, how, name])).toEqual([
      ["site", "removed", "Pad"],
      ["land", "removed", "Skarvøy"],
      ["file", "changed", ""],
    ]);
    expect(sitesDiff(null, file).map(({ what, how }) => [what, how])).toEqual([
      ["site", "added"],
      ["land", "added"],
    ]);
  });
});
