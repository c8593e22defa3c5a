import { describe, expect, it } from 'vitest';
import { refrigerantCapacity } from '../../../../core/circuit/refrigerant-side.ts';
import { refrigerant } from '../../../../core/refrigerant/refrigerants.ts';

const fluid = refrigerant('R-410A');
const exact = (value: number) => ({ value, u: 0 });
const side = {
  displacement: 1.6e-3,
  suctionPressure: exact(fluid.curves.pDew(280.4)),
  suctionLineTemp: exact(291.5),
  highPressure: exact(fluid.curves.pBubble(327.6)),
  liquidLineTemp: exact(319.3),
};

describe('capacity on the refrigerant side', () => {
  // Compressor rating point of AHRI 540 for air conditioning: 45 °F evaporating, 130 °F condensing,
  // 20 °F superheat, 15 °F subcooling (from memory). At it the suction gas of R-410A has 35.57 kg/m3
  // and takes up 158.96 kJ/kg (CoolProp 8), so a displacement of 1.6 l/s gives some 8 kW.
  it('meets the hand calculation at the compressor rating point', () => {
    const found = refrigerantCapacity(side, fluid);
    expect(found?.massFlow.value).toBeGreaterThan(0.93 * 1.6e-3 * 35.4);
    expect(found?.massFlow.value).toBeLessThan(0.93 * 1.6e-3 * 35.75);
    expect((found?.capacity.value ?? 0) / (found?.massFlow.value ?? 1)).toBeGreaterThan(1.58e5);
    expect((found?.capacity.value ?? 0) / (found?.massFlow.value ?? 1)).toBeLessThan(1.6e5);
    // With exact readings only the volumetric efficiency is left: 0.08 of 0.93.
    const relative = (found?.capacity.u ?? 0) / (found?.capacity.value ?? 1);
    expect(relative).toBeCloseTo(0.08 / 0.93, 3);
  });

  it('is not known with wet suction, flashing liquid or a pressure off the curves', () => {
    expect(refrigerantCapacity({ ...side, suctionLineTemp: exact(270) }, fluid)).toBeNull();
    expect(refrigerantCapacity({ ...side, liquidLineTemp: exact(330) }, fluid)).toBeNull();
    expect(refrigerantCapacity({ ...side, highPressure: exact(1e8) }, fluid)).toBeNull();
  });
});
