import { describe, expect, it } from 'vitest';
import { judge } from '../../../../core/checks/running.ts';
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

function answers(units: readonly (readonly Line[])[], setup: Setup, indoor: object) {
  return units.flatMap((unit) =>
    unit.map(([outdoor, suction, liquid]) => {
      const readings = { suction, liquid, outdoor, ...indoor };
      const { answer, suspects } = judge(inputOf(readings, setup)).diagnosis;
      return { outdoor, suction, liquid, answer, first: suspects[0]?.key };
    }),
  );
}

describe('sound units of makers’ tables, pressures and air alone', () => {
  for (const good of [true, false]) {
    const with_ = good ? 'good' : 'usual';
    it(`are not called faulty in cooling, ${with_} gauges`, () => {
      const setup = { refrigerant: 'R-410A', metering: 'txv', good } as const;
      const all = answers(COOLING, setup, { return: 80, wetBulb: 67 });
      expect(all).toHaveLength(132);
      expect(all.filter((a) => a.answer === 'suspect')).toEqual([]);
    });
  }
});
