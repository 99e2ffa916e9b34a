// Places to land that the operator keeps: hospitals, landing sites, fuel; and notices about them. Plain data, nothing
// judged. What the operator does not say is null, and so not known.
type Said = { readonly entry: string; readonly by: string; readonly at_ms: number };

export const siteKinds = ["hospital", "landingSite", "base"] as const;
export type SiteKind = (typeof siteKinds)[number];

export type Site = {
  readonly id: string;
  readonly name: string;
  readonly kind: SiteKind;
  readonly lat_deg: number;
  readonly lon_deg: number;
  readonly elevation_ft: number | null;
  /** The sides of what is clear to land on, the smaller and the larger; both the diameter of a round one. */
  readonly width_m: number | null;
  readonly length_m: number | null;
  readonly lit: boolean | null;
  readonly fuel: boolean | null;
  readonly notes: string;
};

/** A ring of a coast: longitude and latitude, the last as the first. */
export type LandRing = readonly (readonly [lon_deg: number, lat_deg: number])[];

export type SiteFile = {
  readonly sites: readonly Site[];
  /** Land, as polygons with holes; empty where the file draws none. */
  readonly land: readonly (readonly LandRing[])[];
};

/** Somebody's file of sites, whole as it was given, until another person releases or declines it. */
export type SitesProposed = Said & {
  readonly edition: string;
  readonly words: string;
  readonly geojson: unknown;
  readonly ended: "released" | "declined" | null;
};

/** The operator's file of sites, as released: read, and whole as it was given. */
export type SitesReleased = Said &
  SiteFile & {
    readonly edition: string;
    readonly proposal: string;
    readonly proposedBy: string;
    readonly geojson: unknown;
  };

export const noticeKinds = ["closed", "restricted", "unlit", "noFuel", "caution"] as const;
export type NoticeKind = (typeof noticeKinds)[number];

/** Something about a site, or about an area round a place, for a time. */
export type SiteNotice = Said & {
  readonly notice: string;
  readonly about:
    | { readonly site: string }
    | { readonly lat_deg: number; readonly lon_deg: number; readonly radius_nm: number };
  readonly kind: NoticeKind;
  readonly from_ms: number;
  /** Null until somebody lifts it. */
  readonly until_ms: number | null;
  readonly words: string;
  readonly lifted: boolean;
};
