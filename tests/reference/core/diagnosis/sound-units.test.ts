import { describe, expect, it } from 'vitest';
import { judge } from '../../../../core/checks/running.ts';
import { conditionsOf } from '../../../../core/diagnosis/conditions.ts';
import { expectationsFor } from '../../../../core/diagnosis/expectations.ts';
import { featuresOf } from '../../../../core/diagnosis/features.ts';
import { inputOf, type Setup } from '../../../unit/core/diagnosis/make.ts';

/** Outdoor °F, suction psig, liquid psig of a sound unit, as its maker prints them. */
type Line = readonly [outdoor: number, suction: number, liquid: number];

const OUTDOOR = [65, 70, 75, 80, 82, 85, 90, 95, 100, 105, 110, 115] as const;
function lines(suction: string, liquid: string): readonly Line[] {
  const low = suction.split(' ').map(Number);
  const high = liquid.split(' ').map(Number);
  return OUTDOOR.map((t, i): Line => [t, low[i] ?? NaN, high[i] ?? NaN]);
}

/**
 * Lennox LRP14AC installation instructions, p. 23, tables 10 and 11: R-410A, return air 80 °F dry
 * bulb, 67 °F wet bulb. Left out are single cells that break their own row (5-ton heat pump).
 */
const COOLING: readonly (readonly Line[])[] = [
  lines(
    '135 136 137 139 139 141 143 146 148 150 152 154',
    '250 266 282 298 304 318 340 363 388 413 438 463',
  ),
  lines(
    '135 137 140 142 143 145 147 150 152 154 155 157',
    '247 269 292 314 323 336 358 380 406 432 457 483',
  ),
  lines(
    '135 137 140 142 143 144 147 149 151 152 154 155',
    '250 275 301 326 336 351 375 399 423 446 470 493',
  ),
  lines(
    '129 132 135 139 140 141 143 145 146 147 148 149',
    '248 271 293 316 325 339 362 385 411 436 462 487',
  ),
  lines(
    '132 136 139 143 144 145 146 147 149 151 152 154',
    '265 286 308 329 338 352 376 400 427 455 482 509',
  ),
  lines(
    '130 131 133 134 135 136 139 141 144 146 149 152',
    '256 276 296 316 324 340 365 386 415 438 473 503',
  ),
  lines(
    '130 134 138 141 143 145 148 151 152 154 155 156',
    '236 255 275 294 302 316 339 362 388 414 440 466',
  ),
  lines(
    '130 133 136 139 140 141 143 145 147 149 151 153',
    '254 274 294 314 322 336 360 383 410 437 464 491',
  ),
  lines(
    '136 138 140 142 143 144 145 147 149 151 152 154',
    '267 285 303 322 329 343 367 391 417 443 468 494',
  ),
  lines(
    '127 131 134 138 139 141 144 147 147 148 148 148',
    '238 259 280 302 310 324 348 371 396 421 445 470',
  ),
  lines(
    '132 135 138 142 143 144 147 149 151 152 154 155',
    '248 271 294 317 326 340 363 386 412 438 464 490',
  ),
];

type Typical = readonly (readonly Line[])[];
const FIVE = [65, 75, 85, 95, 105] as const;
/** A printed table: one row per outdoor temperature, liquid and suction by turns for each model. */
function typical(rows: readonly string[], outdoor: readonly number[] = FIVE): Typical {
  const cells = rows.map((row) => row.split(' ').map(Number));
  const models = (cells[0]?.length ?? 0) / 2;
  return Array.from({ length: models }, (_, m) =>
    cells.map((row, i): Line => [outdoor[i] ?? NaN, row[2 * m + 1] ?? NaN, row[2 * m] ?? NaN]),
  );
}

/**
 * Typical pressures, indoor air not printed. R-22: Lennox 10ACB manual, p. 9, table 4, orifice and
 * valve, 1.5 to 5 tons (10 SEER); Lennox 12HPB manual, p. 13, 2 and 2.5 tons, valve.
 */
const R22_FIXED = typical([
  '145 71 155 65 160 65 168 63 176 62 162 68 157 69 153 66 159 64',
  '167 77 181 70 188 70 197 68 203 66 185 72 182 72 180 71 188 68',
  '192 81 208 75 216 74 227 73 233 70 210 73 204 73 210 74 219 72',
  '221 84 238 80 247 78 258 77 266 74 252 76 244 76 245 77 253 75',
  '253 87 270 84 280 82 292 80 299 77 287 79 278 79 279 79 287 76',
]);
const R22_VALVE = [
  ...typical([
    '140 79 159 73 164 71 173 71 179 68 157 71 158 70 142 73 151 69',
    '161 80 183 75 189 73 199 73 205 70 187 73 182 72 168 75 179 71',
    '189 81 209 77 217 75 228 75 235 72 217 74 205 73 202 76 211 73',
    '220 83 238 80 247 78 258 77 266 74 255 76 246 76 245 77 249 74',
    '254 84 269 82 279 80 292 79 299 77 289 77 280 79 280 78 286 75',
  ]),
  ...typical(['144 78 140 76', '170 79 164 77', '199 80 194 78', '228 81 224 79', '261 82 259 80']),
];
/**
 * R-410A, valve: Lennox SPB*H4 unit information, p. 26, table 14, second stage of 4 and 5 tons;
 * Lennox XP16, p. 29, table 7, first stage of 2 to 5 tons; Lennox LG/LC 048 and 060, p. 44, tables 9
 * and 11 (discharge pressure).
 */
const R410A_VALVE = [
  ...typical(
    [
      '238 138 232 131 226 144 220 141 224 143 230 137 258 126 253 135',
      '278 140 276 133 260 145 254 144 259 143 267 139 299 135 291 138',
      '321 142 320 136 301 148 295 148 302 147 311 141 343 143 333 141',
      '372 144 367 138 346 151 340 150 346 149 357 144 389 147 379 145',
      '424 147 421 141 396 153 389 153 396 152 398 147 440 154 428 148',
      '481 149 479 144 451 156 444 156 450 155 453 149 495 157 481 151',
    ],
    [65, 75, 85, 95, 105, 115],
  ),
];

/**
 * Heating, R-410A, 70 °F indoors. Heat Controller heat pump manual, p. 16, tables 9 and 10 (2 and
 * 2.5 tons), rated lines; Lennox SPB*H4 unit information, p. 26, table 14 (3, 4 and 5 tons, second
 * stage, typical pressures, indoor air not printed).
 */
const HEATING: readonly (readonly Line[])[] = [
  [
    [0, 37, 212],
    [10, 52, 239],
    [20, 66, 265],
    [30, 81, 292],
    [40, 96, 321],
    [50, 113, 361],
    [60, 129, 401],
  ],
  [
    [0, 36, 209],
    [10, 51, 235],
    [20, 66, 261],
    [30, 81, 288],
    [40, 95, 309],
    [50, 109, 332],
    [60, 123, 355],
  ],
  [
    [20, 61, 321],
    [30, 74, 347],
    [40, 90, 367],
    [50, 110, 387],
    [60, 131, 395],
  ],
  [
    [20, 57, 289],
    [30, 69, 294],
    [40, 80, 321],
    [50, 110, 341],
    [60, 128, 361],
  ],
  [
    [20, 59, 332],
    [30, 67, 349],
    [40, 75, 361],
    [50, 85, 383],
    [60, 122, 425],
  ],
];

function answers(units: readonly (readonly Line[])[], setup: Setup, indoor: object) {
  return units.flatMap((unit) =>
    unit.map(([outdoor, suction, liquid]) => {
      const readings = { suction, liquid, outdoor, ...indoor };
      const { answer, suspects } = judge(inputOf(readings, setup)).diagnosis;
      return { outdoor, suction, liquid, answer, first: suspects[0]?.key };
    }),
  );
}

describe('general rules of heating against makers’ lines', () => {
  it('stand in their middle, and are wide enough for all', () => {
    const setup = { refrigerant: 'R-410A', metering: 'txv', mode: 'heating' } as const;
    const off = HEATING.flat().map(([outdoor, suction, liquid]) => {
      const input = inputOf({ suction, liquid, outdoor, return: 70 }, setup);
      const rules = expectationsFor(input, conditionsOf(input.content, input.config), []);
      const features = featuresOf(input.content, input.config);
      return (['evaporating', 'condensing'] as const).map((key) => {
        const expected = rules[key];
        const measured = features[key];
        if (expected === undefined || measured === undefined) throw new Error(`no ${key}`);
        return { by: measured.value - expected.value, u: expected.u };
      });
    });
    for (const i of [0, 1]) {
      const each = off.map((line) => line[i] ?? { by: NaN, u: NaN });
      const mean = each.reduce((sum, { by }) => sum + by, 0) / each.length;
      expect(Math.abs(mean)).toBeLessThan(1.2);
      const inside = each.filter(({ by, u }) => Math.abs(by) <= u).length;
      expect(inside / each.length).toBeGreaterThan(0.9);
    }
  });
});

describe('sound units of makers’ tables, pressures and air alone', () => {
  const tables = [
    ['R-22 behind an orifice', R22_FIXED, { refrigerant: 'R-22', metering: 'fixed' }, 45],
    ['R-22 behind a valve', R22_VALVE, { refrigerant: 'R-22', metering: 'txv' }, 55],
    ['R-410A behind a valve', R410A_VALVE, { refrigerant: 'R-410A', metering: 'txv' }, 48],
  ] as const;
  for (const [name, units, setup, cells] of tables) {
    it(`are not called faulty: typical pressures of ${name}`, () => {
      const all = answers(units, { ...setup, good: false }, {});
      expect(all).toHaveLength(cells);
      expect(all.filter((a) => a.answer === 'suspect')).toEqual([]);
    });
  }

  for (const good of [true, false]) {
    const with_ = good ? 'good' : 'usual';
    it(`are not called faulty in cooling, ${with_} gauges`, () => {
      const setup = { refrigerant: 'R-410A', metering: 'txv', good } as const;
      const all = answers(COOLING, setup, { return: 80, wetBulb: 67 });
      expect(all).toHaveLength(132);
      expect(all.filter((a) => a.answer === 'suspect')).toEqual([]);
    });

    it(`are not called faulty in heating, ${with_} gauges`, () => {
      const setup = { refrigerant: 'R-410A', metering: 'txv', mode: 'heating', good } as const;
      const all = answers(HEATING, setup, { return: 70 });
      expect(all).toHaveLength(29);
      expect(all.filter((a) => a.answer === 'suspect')).toEqual([]);
    });
  }
});
