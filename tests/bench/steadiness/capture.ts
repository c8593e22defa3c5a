/** The frames of a session as the engine makes them for its detector, and the engine's own spans. */
import { FIGURES, HIGH_SIDE, readFirst } from '../../../core/circuit/figures.ts';
import { createFreshness } from '../../../core/circuit/freshness.ts';
import { pacedChannels } from '../../../core/circuit/judged.ts';
import { movesNoHeat } from '../../../core/circuit/heat-flow.ts';
import { createRunDetector } from '../../../core/circuit/run-detector.ts';
import { createEngine } from '../../../core/engine.ts';
import type { StateSpan } from '../../../core/engine-types.ts';
import { refrigerant } from '../../../core/refrigerant/refrigerants.ts';
import type { Frame } from '../../../core/steadiness/types.ts';
import { channelIndex } from '../../../core/stream/channel-index.ts';
import type { ChannelKey } from '../../../core/stream/channels.ts';
import { createFramer, type Framer } from '../../../core/stream/framer.ts';
import { QUANTITIES, type Session } from './session.ts';

/**
 * The frames that the engine gives its detector, made from the same parts; `checkSpans` holds them
 * against the engine itself.
 */
export function framesOf(session: Session): Frame[] {
  const { config, samples } = session;
  const frames: Frame[] = [];
  const runs = createRunDetector();
  const freshness = createFreshness(QUANTITIES);
  const fluid = refrigerant(config.refrigerant);
  const framer: Framer = createFramer({
    paced: pacedChannels(config),
    correct: (_, value) => value,
    onFrame(t, dt, channels, spoke) {
      const read = (key: ChannelKey): number => channels[channelIndex(key)] ?? NaN;
      const running = runs.push(
        t,
        read('suctionPressure'),
        readFirst(read, HIGH_SIDE),
        read('compressorCurrent'),
        movesNoHeat(config.mode, {
          suctionSaturation: FIGURES.suctionSaturation.compute(read, fluid),
          liquidSaturation: FIGURES.liquidSaturation.compute(read, fluid),
          outdoorAir: read('outdoorAirTemp'),
          returnAir: read('returnAirTemp'),
        }),
      );
      const values = QUANTITIES.map((key) => FIGURES[key].compute(read, fluid));
      const period = (key: ChannelKey): number | null => framer.clock(key).last().period;
      const fresh = freshness({ dt, channels, spoke, period });
      frames.push({ t, dt, values, running, fresh: [...fresh] });
    },
  });
  for (const sample of samples) framer.push(sample);
  framer.finish();
  return frames;
}

/** The spans that the engine itself tells of a session. */
export function spansOf(session: Session): readonly StateSpan[] {
  const engine = createEngine(session.config);
  engine.push(session.samples);
  engine.finish();
  return engine.spans();
}
