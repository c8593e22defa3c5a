import type { Capability, Source, SteerableSource } from '../sources/source.ts';

const STEERING: ReadonlySet<Capability> = new Set(['play', 'seek', 'speed']);

/** Whether the time of a source can be steered; its capabilities say which of the calls work. */
export function isSteerable(source: Source): source is SteerableSource {
  return source.capabilities.some((capability) => STEERING.has(capability));
}
