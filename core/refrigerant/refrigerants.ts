import { fail, ok, type Result } from '../result.ts';
import { kelvin, pascal, type Kelvin, type Pascal } from '../units/brands.ts';
import { curvesOf } from './curves.ts';
import { refrigerantFile, type RefrigerantFile } from './data-file.ts';
import { REFRIGERANT_FILES } from './files.ts';
import type { LineSeries } from './series.ts';
import type { OutOfRange, Refrigerant, RefrigerantId } from './types.ts';

const built = new Map<RefrigerantId, Refrigerant>();

/**
 * One refrigerant by its ASHRAE 34 designation. Built on first use and kept.
 *
 * Temperatures from pressure are valid for `range.pMin` to `range.pMax`; pressures from temperature
 * at least for `range.tMin` to `range.tMax` (each curve reaches as far as its own ends, and an
 * error carries those). Source and measured error of every curve: `data/<id>.json`.
 */
export function refrigerant(id: RefrigerantId): Refrigerant {
  const known = built.get(id);
  if (known !== undefined) return known;
  const made = refrigerantFrom(refrigerantFile.parse(REFRIGERANT_FILES[id]));
  built.set(id, made);
  return made;
}

function refrigerantFrom(file: RefrigerantFile): Refrigerant {
  const { curves, pBubbleSeries, pDewSeries } = curvesOf(file);
  const { pMin_Pa, pMax_Pa, tMin_K, tMax_K } = file.range;

  const checked = (
    quantity: OutOfRange['quantity'],
    value: number,
    min: number,
    max: number,
  ): Result<number, OutOfRange> =>
    // Written so that NaN fails as well.
    value >= min && value <= max
      ? ok(value)
      : fail({ code: 'OUT_OF_RANGE', refrigerant: file.id, quantity, value, min, max });

  const temperature = (p: Pascal, curve: 'tBubble' | 'tDew'): Result<Kelvin, OutOfRange> => {
    const inside = checked('pressure', p, pMin_Pa, pMax_Pa);
    return inside.ok ? ok(kelvin(curves[curve](p))) : inside;
  };
  const pressure = (
    t: Kelvin,
    curve: 'pBubble' | 'pDew',
    ends: LineSeries,
  ): Result<Pascal, OutOfRange> => {
    const inside = checked('temperature', t, ends.low, ends.high);
    return inside.ok ? ok(pascal(curves[curve](t))) : inside;
  };

  return {
    id: file.id,
    safetyClass: file.safetyClass.value,
    range: {
      pMin: pascal(pMin_Pa),
      pMax: pascal(pMax_Pa),
      tMin: kelvin(tMin_K),
      tMax: kelvin(tMax_K),
    },
    curves,
    bubbleTemperature: (p) => temperature(p, 'tBubble'),
    dewTemperature: (p) => temperature(p, 'tDew'),
    bubblePressure: (t) => pressure(t, 'pBubble', pBubbleSeries),
    dewPressure: (t) => pressure(t, 'pDew', pDewSeries),
  };
}
