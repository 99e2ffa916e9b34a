// The atmosphere beside printed and independently computed tables (atmosphere.json has their sources and status).

import type * as Atmosphere from "../src/core/air/atmosphere.ts";
import { convert, inUnit, type Kelvins, type Metres } from "../src/core/quantity/units.ts";
import data from "./atmosphere.json" with { type: "json" };
import { measureTable, type Table, type Tolerance } from "./table.ts";

type Air = ReturnType<typeof Atmosphere.airAt>;

const feet = (ft: number): Metres => convert(inUnit(ft, "ft"), "ft", "m");
const toFeet = (m: Metres): number => convert(m, "m", "ft");
const celsius = (c: number): Kelvins => convert(inUnit(c, "C"), "C", "K");
const toCelsius = (k: Kelvins): number => convert(k, "K", "C");

/** A setting in hPa or inHg, in Pa. */
const setting = (value: number, unit: string): ReturnType<typeof hectopascals> =>
  unit === "inHg" ? convert(inUnit(value, "inHg"), "inHg", "Pa") : hectopascals(value);
const hectopascals = (value: number): ReturnType<typeof inUnit<"Pa">> =>
  convert(inUnit(value, "hPa"), "hPa", "Pa");

/** Geopotential height of a geometric one, by the radius that Doc 7488 gives. */
const geopotential = (h: number): Metres => inUnit((6_356_766 * h) / (6_356_766 + h), "m");

const halfOf = (digit: number, unit: string): Tolerance => ({
  within: digit * 0.5000001,
  unit,
  because: "half of the last digit given",
});

const roundedHeight = "and its tropopause, 11,019 m, is a height to the metre: 0.5 m of 11 km";

const allProperties = {
  T_K: halfOf(0.0001, "K"),
  p_Pa: halfOf(0.01, "Pa"),
  p_inHg: halfOf(1e-6, "inHg"),
  rho: {
    within: 0.6e-6,
    unit: "kg/m3",
    because: "half of the last digit, and ρ0 = p0/(R T0) is 1.8e-8 above 1.225",
  },
  theta: halfOf(1e-7, ""),
  delta: halfOf(1e-7, ""),
  sigma: halfOf(1e-7, ""),
  a_mps: halfOf(0.0001, "m/s"),
  a_kt: halfOf(0.0001, "kt"),
};

function properties(
  air: Air,
  row: readonly number[],
): Record<keyof typeof allProperties, readonly [number, number]> {
  const [, T, p, inHg, rho, theta, delta, sigma, a, kt] = row as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  return {
    T_K: [air.temperature, T],
    p_Pa: [air.pressure, p],
    p_inHg: [convert(air.pressure, "Pa", "inHg"), inHg],
    rho: [air.densityKgPerM3, rho],
    theta: [air.theta, theta],
    delta: [air.delta, delta],
    sigma: [air.sigma, sigma],
    a_mps: [air.soundSpeed, a],
    a_kt: [convert(air.soundSpeed, "ms", "kt"), kt],
  };
}

export function atmosphereTables({
  airAt,
  pressureAltitude,
  pressureAltitudeOf,
  standardPressure,
}: typeof Atmosphere): Table[] {
  const standard = (height: Metres): Air => airAt(height, null, null);
  const addFeet = (value: number, unit: string): number => toFeet(pressureAltitude(setting(value, unit)));
  const qnhPaths = { elevation: "elevation", qnh: "qnh" };
  return [
    measureTable("standard atmosphere by feet", data.byFeet.rows, allProperties, (row) =>
      properties(standard(feet(row[0] as number)), row),
    ),
    measureTable("standard atmosphere by metres", data.byMetres.rows, allProperties, (row) =>
      properties(standard(inUnit(row[0] as number, "m")), row),
    ),
    measureTable(
      "U.S. Standard Atmosphere 1976 by feet",
      data.usStandardFeet.rows,
      {
        T_K: halfOf(0.001, "K"),
        p_Pa: {
          within: 0.07,
          unit: "Pa",
          because: "printed to 6 digits, and computed there from rounded constants",
        },
        rho: halfOf(1e-5, "kg/m3"),
        a_ftps: { within: 0.006, unit: "ft/s", because: "printed to 0.01 ft/s" },
      },
      (row) => {
        const [H, T, p, rho, a] = row as [number, number, number, number, number];
        const air = standard(feet(H));
        return {
          T_K: [air.temperature, T],
          p_Pa: [air.pressure, p],
          rho: [air.densityKgPerM3, rho],
          a_ftps: [air.soundSpeed / 0.3048, a],
        };
      },
    ),
    measureTable(
      "ICAO Doc 7488 by geometric height",
      data.icaoGeometric.rows,
      {
        T_K: { within: 0.0038, unit: "K", because: `half of the last digit, ${roundedHeight}` },
        p_Pa: { within: 1.9, unit: "Pa", because: `half of the last digit, ${roundedHeight}` },
        rho: { within: 3e-5, unit: "kg/m3", because: `half of the last digit, ${roundedHeight}` },
        a_mps: { within: 0.0027, unit: "m/s", because: `half of the last digit, ${roundedHeight}` },
      },
      geometric,
    ),
    measureTable(
      "U.S. Standard Atmosphere 1976 by geometric height",
      data.us1976Geometric.rows,
      {
        T_K: halfOf(0.012, "K"),
        p_Pa: { within: 6, unit: "Pa", because: "printed to 5 digits, 10 Pa above 100,000" },
        rho: { within: 6e-5, unit: "kg/m3", because: "printed to 5 digits" },
        a_mps: halfOf(0.01, "m/s"),
      },
      geometric,
    ),
    measureTable(
      "standard pressure levels",
      data.pressureLevels.rows,
      {
        H_m: {
          within: 0.51,
          unit: "m",
          because: "half of the last digit, and a hundredth for the page's own constants",
        },
        H_ft: halfOf(1, "ft"),
        T_C: halfOf(0.1, "C"),
      },
      (row) => {
        const [p, m, ft, c] = row as [number, number, number, number];
        const height = pressureAltitude(hectopascals(p));
        return {
          H_m: [height, m],
          H_ft: [toFeet(height), ft],
          T_C: [toCelsius(standard(height).temperature), c],
        };
      },
    ),
    measureTable(
      "density altitude of dry air",
      data.densityAltitude.rows,
      { ISA_dev_C: halfOf(0.0001, "C"), DA_ft: halfOf(0.01, "ft") },
      (row) => {
        const [pa, oat, deviation, da] = row as [number, number, number, number];
        const air = airAt(feet(pa), celsius(oat), null);
        return { ISA_dev_C: [air.isaDeviationK, deviation], DA_ft: [toFeet(air.densityAltitude), da] };
      },
    ),
    measureTable(
      "pressure altitude and QFE from elevation and QNH",
      data.pressureAltitude.rows,
      { PA_ft: halfOf(0.01, "ft"), QFE_hPa: halfOf(0.01, "hPa") },
      (row) => {
        const [elevation, qnh, pa, qfe] = row as [number, number, number, number];
        const height = pressureAltitudeOf(feet(elevation), hectopascals(qnh), qnhPaths);
        return { PA_ft: [toFeet(height), pa], QFE_hPa: [standardPressure(height) / 100, qfe] };
      },
    ),
    measureTable(
      "altimeter settings in inches",
      data.altimeterInches.rows,
      {
        exact_ft: halfOf(0.01, "ft"),
        NWS_ft: {
          within: 0.8,
          unit: "ft",
          because: "the NWS formula has rounded constants: 0.75 ft apart at 28 inHg",
        },
      },
      (row) => {
        const [inHg, exact, nws] = row as [number, number, number];
        return { exact_ft: [addFeet(inHg, "inHg"), exact], NWS_ft: [addFeet(inHg, "inHg"), nws] };
      },
    ),
    measureTable(
      "altimeter settings by the NWS formula",
      data.altimeterNws.rows as [string, number, number][],
      { add_ft: { within: 1.3, unit: "ft", because: "given to the foot, and 0.75 ft between the formulas" } },
      ([unit, value, add]) => ({ add_ft: [addFeet(value, unit), add] }),
    ),
    measureTable(
      "altimeter settings as printed",
      data.altimeterPrinted.rows,
      { add_ft: { within: 1.3, unit: "ft", because: "printed to the foot, from the NWS formula" } },
      (row) => ({ add_ft: [addFeet(row[0] as number, "inHg"), row[1] as number] }),
    ),
    measureTable(
      "station pressure by the Smithsonian formula",
      data.smithsonian.rows as [string, number, number, number][],
      {
        station_hPa: {
          within: 0.002,
          unit: "hPa",
          because: "after the 0.269 hPa by which that definition lies above ICAO's",
        },
      },
      ([unit, value, elevation, station]) => {
        const height = pressureAltitudeOf(inUnit(elevation, "m"), setting(value, unit), qnhPaths);
        return { station_hPa: [standardPressure(height) / 100 + 0.269, station] };
      },
    ),
    measureTable(
      "density altitude as printed",
      data.densityAltitudePrinted.rows,
      {
        PA_ft: { within: 1.3, unit: "ft", because: "printed to the foot, from the NWS formula" },
        DA_ft: { within: 100, unit: "ft", because: "read off a chart with lines 1,000 ft apart" },
      },
      (row) => {
        const [elevation, inHg, oat, pa, da] = row as [number, number, number, number, number];
        const height = pressureAltitudeOf(feet(elevation), setting(inHg, "inHg"), qnhPaths);
        const air = airAt(height, convert(inUnit(oat, "F"), "F", "K"), null);
        return { PA_ft: [toFeet(height), pa], DA_ft: [toFeet(air.densityAltitude), da] };
      },
    ),
    measureTable(
      "density altitude to the foot",
      data.densityAltitudeTable.rows,
      { DA_ft: { within: 0.6, unit: "ft", because: "given to the foot, from constants of six digits" } },
      (row) => {
        const [pa, oat, da] = row as [number, number, number];
        return { DA_ft: [toFeet(airAt(feet(pa), celsius(oat), null).densityAltitude), da] };
      },
    ),
    measureTable(
      "density altitude by rule of thumb",
      data.densityAltitudeByRule.rows,
      {
        rule_DA_ft: {
          within: 200,
          unit: "ft",
          because: "a straight line through a curve: some 5 % of 3,600 ft",
        },
      },
      (row) => {
        const [pa, oat, da] = row as [number, number, number];
        return { rule_DA_ft: [toFeet(airAt(feet(pa), celsius(oat), null).densityAltitude), da] };
      },
    ),
    measureTable(
      "density of humid air",
      data.humidAir.rows,
      {
        dry_kgm3: {
          within: 5e-5,
          unit: "kg/m3",
          because: "ASHRAE's gas constant is 287.042, a share of 3.8e-5 lower",
        },
        moist_kgm3: {
          within: 7e-5,
          unit: "kg/m3",
          because: "that gas constant, and 0.2 % between formulas for vapour pressure",
        },
      },
      (row) => {
        const [c, humidity, p, moist, dry] = row as [number, number, number, number, number];
        const height = pressureAltitude(inUnit(p, "Pa"));
        return {
          dry_kgm3: [airAt(height, celsius(c), null).densityKgPerM3, dry],
          moist_kgm3: [airAt(height, celsius(c), celsius(dewPointOf(c, humidity))).densityKgPerM3, moist],
        };
      },
    ),
  ];

  function geometric(
    row: readonly number[],
  ): Record<"T_K" | "p_Pa" | "rho" | "a_mps", readonly [number, number]> {
    const [h, T, p, rho, a] = row as [number, number, number, number, number];
    const air = standard(geopotential(h));
    return {
      T_K: [air.temperature, T],
      p_Pa: [air.pressure, p],
      rho: [air.densityKgPerM3, rho],
      a_mps: [air.soundSpeed, a],
    };
  }
}

/** Dew point of a relative humidity by the Magnus formula of WMO-No. 8 (another one than the core's). */
function dewPointOf(c: number, humidity: number): number {
  const exponent = Math.log(humidity) + (17.62 * c) / (243.12 + c);
  return (243.12 * exponent) / (17.62 - exponent);
}
