import type { ReactNode } from 'react';
import type { EngineConfig, SnapshotContent } from '../../core/engine-types.ts';
import { channelRow } from '../../core/stream/channels.ts';
import { FIGURE_KEYS, figureTold } from '../../core/circuit/figures.ts';
import { unitStands } from '../../core/steadiness/rest.ts';
import { channelReadingText, clockText, figureText } from '../app/format.ts';
import { useUnits } from '../store/context.ts';

/** Every figure and channel of a snapshot with its uncertainty, and the window they hold for. */
export function SnapshotNumbers(p: {
  readonly content: SnapshotContent;
  readonly config: EngineConfig;
}): ReactNode {
  const system = useUnits();
  const { content, config } = p;
  const off = unitStands(content);
  return (
    <div className="numbers">
      <table>
        <caption className="sr">Figures</caption>
        <tbody>
          {FIGURE_KEYS.map((key) => {
            const reading = content.figures[key];
            if (reading === undefined) return null;
            const { label, explain } = figureTold(key, config.mode, off);
            return (
              <tr key={key}>
                <th scope="row" title={explain}>
                  {label}
                </th>
                <td className="number">{figureText(key, reading, config.mode, system)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <table>
        <caption className="sr">Channels</caption>
        <tbody>
          {content.channels.map((reading) => (
            <tr key={reading.channel}>
              <th scope="row">{channelRow(reading.channel).label}</th>
              <td className="number">
                {channelReadingText(reading, system, config.atmosphere.pressure)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p>
        Averages from {clockText(content.window.from)} to {clockText(content.window.to)} of the
        session, with {config.refrigerant}; ± is k = 2.
      </p>
    </div>
  );
}
