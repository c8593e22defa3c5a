/** Noise-free state of one split system at one moment, SI. For tests and benchmarks only. */
export interface SplitTruth {
  readonly kind: 'splitSystem';
  readonly t: number;
  readonly running: boolean;
  readonly defrosting: boolean;
  /** Absolute pressures at the service ports, Pa. */
  readonly suctionPressure: number;
  readonly dischargePressure: number;
  readonly liquidPressure: number;
  /** Saturation temperatures at those ports: dew of the suction, bubble and dew of the liquid port, K. */
  readonly tEvaporating: number;
  readonly tCondensing: number;
  /** Suction line minus dew at the suction port; bubble at the liquid port minus liquid line, K. */
  readonly superheat: number;
  readonly subcooling: number;
  /** Superheat of the gas itself at the outlet of the evaporator, K. */
  readonly evaporatorSuperheat: number;
  readonly tSuctionLine: number;
  readonly tLiquidLine: number;
  readonly tDischargeLine: number;
  readonly tDrierInlet: number;
  readonly tDrierOutlet: number;
  readonly tOutdoorAir: number;
  readonly tReturnAir: number;
  readonly returnHumidityRatio: number;
  readonly returnHumidity: number;
  readonly tReturnWetBulb: number;
  readonly tSupplyAir: number;
  readonly supplyHumidityRatio: number;
  /** Air leaving the outdoor coil, K. */
  readonly tOutdoorLeaving: number;
  readonly indoorAirflow_m3_s: number;
  /** Refrigerant mass in each place, kg, and what ought to be in all of them together. */
  readonly mass: {
    readonly indoorCoil: number;
    readonly outdoorCoil: number;
    readonly liquidLine: number;
    readonly accumulator: number;
    readonly total: number;
    /** Initial charge plus everything charged minus everything recovered. */
    readonly expected: number;
  };
  /** Share of each coil that is two-phase (evaporating side) and subcooled (condensing side). */
  readonly wettedShare: number;
  readonly subcooledShare: number;
  readonly valveOpening: number;
  readonly refrigerantFlow_kg_s: number;
  /** Heat taken from (cooling) or given to (heating) the indoor air, W; sensible part. */
  readonly capacity_W: number;
  readonly sensibleCapacity_W: number;
  readonly heatRejected_W: number;
  readonly compressorPower_W: number;
  readonly compressorCurrent_A: number;
  /** (heat in + work - heat out) / heat out of the refrigerant circuit; 0 in steady state. */
  readonly energyResidual: number;
  /** Ice on the indoor and outdoor coil, kg, and the coldest surface of each coil, K. */
  readonly frostIndoor_kg: number;
  readonly frostOutdoor_kg: number;
  readonly tIndoorSurface: number;
  readonly tOutdoorSurface: number;
}

/** Noise-free state of a nitrogen or vacuum hold, SI. */
export interface HoldTruth {
  readonly kind: 'pressureHold' | 'vacuumHold';
  readonly t: number;
  readonly pressure: number;
  readonly tGas: number;
  readonly tSurroundings: number;
  /** Gas (nitrogen or air) inside, kg. */
  readonly gas_kg: number;
  /** Gas that has passed the hole since the start, kg (out positive for nitrogen, in for vacuum). */
  readonly leaked_kg: number;
  /** Water still held by walls and oil, kg, and its vapour pressure inside, Pa. */
  readonly water_kg: number;
  readonly waterPressure: number;
}

/** What {@link ScenarioRun.truth} gives: tell the two apart by `kind`. */
export type Truth = SplitTruth | HoldTruth;
