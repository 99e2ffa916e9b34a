// The chapter numbers that an item, a deferral or a component may bear.
//
// Source: chapter numbers of ATA Specification 100 as the FAA's JASC code table (27 October 2008) uses them for
// rotorcraft; the table's four-digit form was seen, the titles are from memory.

export const chapters: ReadonlySet<string> = new Set(
  "05 06 07 08 09 10 11 12 14 18 21 22 23 24 25 26 27 28 29 30 31 32 33 34 35 45 51 52 53 54 55 56 62 63 64 65 66 67 71 72 73 74 75 76 77 78 79 80".split(
    " ",
  ),
);
