// The rules that a standing enforces or shows, one line each: what, by which paragraph, how, and by what it is judged.
//
// `judgedBy` names the function. The test beside the craft's ledger holds every rule to a case that passes and one that fails.
export type RuleKind = "block" | "ask" | "warn" | "show";

export type ListedRule = {
  readonly rule: string;
  readonly what: string;
  readonly cite: string;
  readonly kind: RuleKind;
  /** The functions that judge it. */
  readonly judgedBy: string;
};

const judged = (rule: string, what: string, cite: string, kind: RuleKind, judgedBy: string): ListedRule => ({
  rule,
  what,
  cite,
  kind,
  judgedBy,
});
export const ruleList: readonly ListedRule[] = [
  judged("R1", "minima by crew, light and class at dispatch", "SPA.HEMS.120", "block", "judgeMinima"),
  judged("R2", "short-period reductions only en route", "SPA.HEMS.120", "block", "judgeMinima"),
  judged("R3", "performance class 3: 600 ft, 1500 m", "SPA.HEMS.120(b)", "block", "judgeMinima"),
  judged("R4", "advisory speed for a visibility", "GM1 SPA.HEMS.120", "show", "advisorySpeed"),
  judged("R5", "one pilot by night under conditions", "SPA.HEMS.130(e)(2)", "ask", "assessCrew"),
  judged("R6", "technical crew member aboard by day", "SPA.HEMS.130(e)(1)", "block", "assessCrew"),
  judged("R7", "30 min by instruments in 6 months", "SPA.HEMS.130(d)", "block", "assessCrew"),
  judged("R8", "3 landings in 90 days, by night 1 or a rating", "FCL.060", "block", "assessCrew"),
  judged("R9", "medical with its age rule", "MED.A.045", "block", "assessCrew"),
  judged("R10", "proficiency check 6, line check 12 months", "ORO.FC.230", "block", "assessCrew"),
  judged("R11", "3 goggles flights in 90 days, check 12 months", "SPA.NVIS.130", "block", "assessCrew"),
  judged("R12", "duty and rest", "Art. 8; 135.267; 135.271", "block", "assessCrew"),
  judged("R13", "pre-flight inspection done and signed", "M.A.201(d), M.A.301(a)", "block", "assessWalks"),
  judged("R14", "a defect without a decision", "M.A.403(b)", "block", "assessFindings"),
  judged("R15", "a deferral that has lapsed", "ORO.MLR.105(e)(3)", "block", "assessFindings"),
  judged("R16", "a deferral that lapses before landing", "ORO.MLR.105(e)(3)", "warn", "assessCall"),
  judged("R17", "extended once, by the same duration", "ORO.MLR.105(f)", "block", "deferralTerm"),
  judged("R18", "(O) and (M) procedures confirmed", "ORO.MLR.105(g)", "block", "assessFindings"),
  judged("R19", "what a deferral takes away", "MEL remarks", "block", "assessFindings"),
  judged("R20", "maintenance overdue or used up", "AMC M.A.301(a) 1(b)", "block", "assessDue"),
  judged("R21", "a release after maintenance", "M.A.801, 145.A.50", "block", "assessDue"),
  judged(
    "R22",
    "required equipment present, in date",
    "AMC M.A.301(a) 1(a)",
    "block",
    "assessNeeds, assessDue",
  ),
  judged("R23", "covers, locks and tie-downs off", "AMC M.A.301(a) 1(d)(e)", "block", "assessClosures"),
  judged("R24", "surfaces free of ice", "AMC M.A.301(a) 1(f); 135.227", "block", "assessFindings"),
  judged("R25", "uplift of the right grade, clean", "AMC M.A.301(a) 1(c)", "block", "assessFuel"),
  judged("R26", "an uplift above expectation", "AMC M.A.301(a) 2", "ask", "assessLevels"),
  judged("R27", "mass and balance in every phase", "CAT.POL.MAB.100(a)", "block", "assessLoad"),
  judged("R28", "mass by the performance class", "CAT.POL.H.105", "block", "assessReference, assessCall"),
  judged(
    "R29",
    "fuel at take-off and landing",
    "CAT.OP.MPA.191; 91.151; 135.209",
    "block",
    "assessReference, assessCall",
  ),
  judged("R30", "site size 2 D, by night 4 D by 2 D", "AMC1 SPA.HEMS.125(b)(4)", "ask", "aboutSites"),
  judged("R31", "highest obstacle of the route written down", "135.615", "ask", "assessCall"),
  judged(
    "R32",
    "risk worksheet signed before the first leg",
    "135.617",
    "block",
    "assessCall, assessFlights",
  ),
  judged("R33", "whether another operator refused", "135.617(a)(4)", "ask", "assessCall, assessFlights"),
  judged("R34", "beacon, altimeter, transponder in date", "91.207, 91.411, 91.413", "block", "assessDue"),
  judged("R35", "a flight without its log entry", "CAT.GEN.MPA.105; 135.65", "block", "assessFlights"),
  judged("R36", "age of the weather", "SPA.HEMS.145(b); 135.213", "warn", "assessWeather"),
  judged(
    "R37",
    "oxygen above 10,000 ft",
    "CAT.OP.MPA.285; SPA.HEMS.110(d)",
    "block",
    "assessCall, assessReference",
  ),
  judged("R38", "moving map and obstacles current", "SPA.HEMS.110(b)", "warn", "assessDue"),
];
