import { describe, expect, it } from 'vitest';
import { airCapacity } from '../../../../core/circuit/air.ts';
import { dischargeTemperature } from '../../../../core/circuit/compressor-heat.ts';
import { refrigerant } from '../../../../core/refrigerant/refrigerants.ts';
import { kelvinFromCelsius, kelvinFromFahrenheit } from '../../../../core/units/temperature.ts';

const BTU_PER_HOUR = 1055.05585262 / 3600;
const CFM = 0.3048 ** 3 / 60;
const at = (degF: number, u = 0.3) => ({ value: kelvinFromFahrenheit(degF), u });

describe('air-side capacity', () => {
  // The trade's formulas for standard air of 0.075 lb/ft3 (ASHRAE Handbook Fundamentals; common
  // practice): sensible Btu/h = 1.08 cfm dT, total Btu/h = 4.5 cfm dh.
  it('meets the formulas for standard air within the difference of density', () => {
    const result = airCapacity({
      flow: { value: 1000 * CFM, u: 50 * CFM },
      returnAir: at(75),
      supplyAir: at(55),
      returnMoisture: { kind: 'wetBulb', reading: at(63) },
      supplyMoisture: { kind: 'wetBulb', reading: at(54) },
      atmosphere: 101_325,
    });
    if (!result.ok) throw new Error('refused');
    const { sensible, total } = result.value;
    // dh from tables of moist air: 28.5 - 22.5 Btu/lb (from memory).
    expect(sensible.value / BTU_PER_HOUR / (1.08 * 1000 * 20)).toBeCloseTo(1, 1);
    expect(total?.value).toBeGreaterThan(sensible.value);
    expect((total?.value ?? 0) / BTU_PER_HOUR / (4.5 * 1000 * 6)).toBeCloseTo(1, 1);
    // Flow 5 % and temperatures 0.3 K of 11 K, in quadrature.
    expect(sensible.u / sensible.value).toBeCloseTo(Math.hypot(0.05, (0.3 * Math.SQRT2) / 11.1), 2);
  });

  it('gives no total without moisture on both sides and keeps the sensible', () => {
    const result = airCapacity({
      flow: { value: 0.5, u: 0.02 },
      returnAir: at(75),
      supplyAir: at(55),
      returnMoisture: null,
      supplyMoisture: null,
      atmosphere: 101_325,
    });
    expect(result).toMatchObject({ ok: true, value: { total: null } });
  });

  it('takes a supply wet bulb above the dry bulb within the error as saturated, beyond it refuses', () => {
    const side = (wet: number) => ({
      flow: { value: 0.5, u: 0.02 },
      returnAir: at(75),
      supplyAir: at(54),
      returnMoisture: { kind: 'wetBulb', reading: at(63) } as const,
      supplyMoisture: { kind: 'wetBulb', reading: at(wet) } as const,
      atmosphere: 101_325,
    });
    expect(airCapacity(side(54.5)).ok).toBe(true);
    expect(airCapacity(side(58))).toMatchObject({
      ok: false,
      error: { code: 'WET_BULB_ABOVE_DRY_BULB' },
    });
  });
});

describe('discharge temperature', () => {
  // CoolProp 8.0.0 (open library, MIT licence): T at (p2, s1), and at (p2, h1 + (h2s - h1) / 0.7).
  it.each([
    ['R-32', 8.5e5, 285, 28e5, 363.139, 380.867],
    ['R-290', 5e5, 283, 16e5, 332.21, 343.044],
    ['R-134a', 3.2e5, 282, 13e5, 333.355, 344.867],
  ] as const)('of %s is that of CoolProp', (id, p1, t1, p2, isentropic, real) => {
    const given = { suctionPressure: p1, suctionTemp: t1, dischargePressure: p2 };
    expect(dischargeTemperature(given, 1, refrigerant(id))).toBeCloseTo(isentropic, 2);
    expect(dischargeTemperature(given, 0.7, refrigerant(id))).toBeCloseTo(real, 2);
  });

  it('is not a number where the gas would leave hotter than the curves reach', () => {
    const given = { suctionPressure: 8.5e5, suctionTemp: 285, dischargePressure: 28e5 };
    expect(dischargeTemperature(given, 0.45, refrigerant('R-32'))).toBeNaN();
  });

  const fluid = refrigerant('R-410A');
  const ports = {
    suctionPressure: fluid.curves.pDew(kelvinFromCelsius(7)),
    suctionTemp: kelvinFromCelsius(14),
    dischargePressure: fluid.curves.pBubble(kelvinFromCelsius(45)),
  };

  // The isentropic state has the entropy of the suction: the definition itself.
  it('keeps the entropy at an efficiency of one and gets hotter as efficiency falls', () => {
    const t = dischargeTemperature(ports, 1, fluid);
    const s = fluid.curves.sVapour(ports.dischargePressure, t);
    expect(s).toBeCloseTo(fluid.curves.sVapour(ports.suctionPressure, ports.suctionTemp), 0);
    expect(dischargeTemperature(ports, 0.7, fluid)).toBeGreaterThan(t + 5);
  });

  it('is not a number for wet suction, reversed pressures or states off the curves', () => {
    expect(dischargeTemperature({ ...ports, suctionTemp: 270 }, 0.7, fluid)).toBeNaN();
    expect(dischargeTemperature({ ...ports, dischargePressure: 5e5 }, 0.7, fluid)).toBeNaN();
    expect(dischargeTemperature({ ...ports, dischargePressure: 1e8 }, 0.7, fluid)).toBeNaN();
  });
});
