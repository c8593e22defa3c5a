import { describe, expect, it } from 'vitest';
import { movesNoHeat } from '../../../../core/circuit/heat-flow.ts';

const K = (degF: number): number => (degF + 459.67) / 1.8;
const at = (suction: number, liquid: number, outdoor: number, indoor: number) => ({
  suctionSaturation: K(suction),
  liquidSaturation: K(liquid),
  outdoorAir: K(outdoor),
  returnAir: K(indoor),
});

describe('movesNoHeat', () => {
  it('knows a circuit that stands behind a closed valve, each side at its own air', () => {
    expect(movesNoHeat('cooling', at(75, 100, 100, 75))).toBe(true);
    expect(movesNoHeat('heating', at(40, 68, 40, 68))).toBe(true);
    expect(movesNoHeat('cooling', at(100, 75, 100, 75))).toBe(true);
  });

  it('allows a cabinet that the sun warms', () => {
    expect(movesNoHeat('cooling', at(75, 97, 90, 75))).toBe(true);
  });

  it('knows a circuit that moves heat, in cooling, in heating and in cold weather', () => {
    expect(movesNoHeat('cooling', at(45, 115, 95, 80))).toBe(false);
    expect(movesNoHeat('heating', at(25, 105, 40, 68))).toBe(false);
    // Cooling against cold air: the high side is under the air of the rooms and yet at work.
    expect(movesNoHeat('cooling', at(38, 65, 41, 72))).toBe(false);
    // A machine at its lowest speed.
    expect(movesNoHeat('cooling', at(60, 96, 86, 75))).toBe(false);
  });

  it('tells nothing where an air or a pressure is unknown', () => {
    expect(movesNoHeat('cooling', at(75, 100, NaN, 75))).toBe(false);
    expect(movesNoHeat('cooling', at(75, 100, 100, NaN))).toBe(false);
    expect(movesNoHeat('cooling', at(NaN, 100, 100, 75))).toBe(false);
  });
});
