// The part of the package geodesy (2.4.0, MIT, plain JavaScript) that is used here.
declare module "geodesy/mgrs.js" {
  export class LatLon {
    readonly lat: number;
    readonly lon: number;
    constructor(lat: number, lon: number);
    toUtm(): Utm;
  }
  export class Utm {
    readonly zone: number;
    readonly hemisphere: "N" | "S";
    readonly easting: number;
    readonly northing: number;
    constructor(zone: number, hemisphere: "N" | "S", easting: number, northing: number);
    /** Without the methods of LatLon above. */
    toLatLon(): { readonly lat: number; readonly lon: number };
    toMgrs(): Mgrs;
  }
  export default class Mgrs {
    readonly zone: number;
    readonly band: string;
    readonly e100k: string;
    readonly n100k: string;
    constructor(zone: number, band: string, e100k: string, n100k: string, easting: number, northing: number);
    toUtm(): Utm;
    toString(digits?: number): string;
  }
}
