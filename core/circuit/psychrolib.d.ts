/** The part of psychrolib 1.1.1 (ASHRAE Handbook Fundamentals 2017, chapter 1) this program calls. */
declare module 'psychrolib' {
  interface Psychrolib {
    readonly SI: number;
    readonly IP: number;
    SetUnitSystem(system: number): void;
    GetUnitSystem(): number | undefined;
    /** °C, 0..1, Pa */
    GetHumRatioFromRelHum(dryBulb: number, relHum: number, pressure: number): number;
    GetHumRatioFromTWetBulb(dryBulb: number, wetBulb: number, pressure: number): number;
    GetRelHumFromHumRatio(dryBulb: number, humRatio: number, pressure: number): number;
    GetTWetBulbFromHumRatio(dryBulb: number, humRatio: number, pressure: number): number;
    GetTDewPointFromHumRatio(dryBulb: number, humRatio: number, pressure: number): number;
    GetMoistAirEnthalpy(dryBulb: number, humRatio: number): number;
    GetMoistAirVolume(dryBulb: number, humRatio: number, pressure: number): number;
  }
  const psychrolib: Psychrolib;
  export default psychrolib;
}
