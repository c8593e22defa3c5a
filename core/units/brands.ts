/**
 * Branded numbers. Inside the program everything is SI; gauge and absolute pressure are different
 * types, and so are a temperature and a difference of temperatures.
 */
declare const unit: unique symbol;
type Branded<U extends string> = number & { readonly [unit]: U };

/** Absolute pressure in pascal. */
export type Pascal = Branded<'Pa_abs'>;
/** Gauge pressure in pascal: above the local atmosphere. */
export type GaugePascal = Branded<'Pa_gauge'>;
/** Thermodynamic temperature in kelvin. */
export type Kelvin = Branded<'K'>;
/** A difference of temperatures in kelvin (superheat, subcooling, a split). */
export type KelvinDifference = Branded<'K_diff'>;

/** Brands a number already known to be absolute pascal. */
export const pascal = (value: number): Pascal => value as Pascal;
/** Brands a number already known to be gauge pascal. */
export const gaugePascal = (value: number): GaugePascal => value as GaugePascal;
/** Brands a number already known to be kelvin. */
export const kelvin = (value: number): Kelvin => value as Kelvin;
/** Brands a number already known to be a difference in kelvin. */
export const kelvinDifference = (value: number): KelvinDifference => value as KelvinDifference;
