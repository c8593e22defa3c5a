import { parseTable } from '../table.ts';

/**
 * Superheat (°F) at the suction service port of a unit with a fixed orifice, by outdoor dry bulb
 * (rows, °F) and return-air wet bulb (columns, °F); a dash is a condition at which the charge cannot
 * be tested. As printed in equipment manuals: Carrier 38VTA table 4 and Lennox 14ACX page 26 (SI
 * version: Carrier 38TUA table 6). The rows below 55 °F are in the Lennox copy only. Copies differ
 * by 1 °F in places: at 80/70 one prints 26 where its own SI table, 13.9 °C, gives 25, used here;
 * at 100 °F the Lennox copy prints 16, 21, 24, 28 for the last four.
 */
export const CHARGING_CHART = parseTable(`
    50 52 54 56 58 60 62 64 66 68 70 72 74 76
 40 15 18 20 23 26 29 32 34 38 41 43 46 48 51
 45 13 16 18 21 24 27 30 33 36 39 41 44 46 49
 50 11 14 16 19 22 25 28 31 34 37 39 42 44 47
 55  9 12 14 17 20 23 26 29 32 35 37 40 42 45
 60  7 10 12 15 18 21 24 27 30 33 35 38 40 43
 65  -  6 10 13 16 19 21 24 27 30 33 36 38 41
 70  -  -  7 10 13 16 19 21 24 27 30 33 36 39
 75  -  -  -  6  9 12 15 18 21 24 28 31 34 37
 80  -  -  -  -  5  8 12 15 18 21 25 28 31 35
 85  -  -  -  -  -  -  8 11 15 19 22 26 30 33
 90  -  -  -  -  -  -  5  9 13 16 20 24 27 31
 95  -  -  -  -  -  -  -  6 10 14 18 22 25 29
100  -  -  -  -  -  -  -  -  8 12 15 20 23 27
105  -  -  -  -  -  -  -  -  5  9 13 17 22 26
110  -  -  -  -  -  -  -  -  -  6 11 15 20 25
115  -  -  -  -  -  -  -  -  -  -  8 14 18 23
`);
