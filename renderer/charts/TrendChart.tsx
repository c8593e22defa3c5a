import { memo, useMemo, type ReactNode } from 'react';
import { CartesianGrid, Line, LineChart, XAxis, YAxis } from 'recharts';
import type { ChannelKey } from '../../core/stream/channels.ts';
import type { TrendLine } from '../../electron/bridge/views.ts';
import { channelNumber, clockText, type UnitSystem } from '../app/format.ts';
import { alignLines } from './align.ts';
import { channelStyle } from './line-style.ts';
import { timeTicks } from './closing-in.ts';
import { useSize } from './use-size.ts';

export interface TrendChartProps {
  readonly label: string;
  readonly keys: readonly ChannelKey[];
  readonly lines: readonly TrendLine[];
  readonly from: number;
  readonly to: number;
  readonly system: UnitSystem;
  readonly atmosphere: number;
}

/** Rows of a chart: about two for every pixel pair of a wide screen. */
const ROWS = 400;
const MARGIN = { top: 6, right: 8, bottom: 0, left: 0 };

/** Channels of one kind over time; gaps stay gaps; nothing moves but the data. */
export const TrendChart = memo(function TrendChart(props: TrendChartProps): ReactNode {
  const { ref, width, height } = useSize<HTMLDivElement>();
  const { keys, lines, from, to, system, atmosphere } = props;
  const rows = useMemo(() => {
    const own = keys.map((key) => lines.find((line) => line.key === key)?.points ?? []);
    return alignLines(own, from, to, ROWS).map((row) => ({
      t: row.t,
      values: row.values.map((v, i) => {
        const key = keys[i];
        return v === null || key === undefined ? null : channelNumber(key, v, system, atmosphere);
      }),
    }));
  }, [keys, lines, from, to, system, atmosphere]);
  return (
    <div ref={ref} className="trend-plot" role="img" aria-label={props.label}>
      {width > 60 && height > 40 && (
        <LineChart
          width={width}
          height={height}
          data={rows}
          margin={MARGIN}
          accessibilityLayer={false}
        >
          <CartesianGrid stroke="var(--hair)" vertical={false} />
          <XAxis
            dataKey="t"
            type="number"
            domain={[from, to]}
            ticks={[...timeTicks(from, to, Math.max(2, width / 110))]}
            tickFormatter={clockText}
            tick={{ fill: 'var(--ink-2)', fontSize: 13 }}
            stroke="var(--rule)"
            height={22}
          />
          <YAxis
            domain={['auto', 'auto']}
            width={46}
            tickCount={height > 150 ? 5 : 3}
            niceTicks="snap125"
            tick={{ fill: 'var(--ink-2)', fontSize: 13 }}
            stroke="var(--rule)"
          />
          {keys.map((key, i) => (
            <Line
              key={key}
              dataKey={(row: { values: (number | null)[] }) => row.values[i] ?? null}
              name={key}
              dot={false}
              activeDot={false}
              isAnimationActive={false}
              connectNulls={false}
              stroke={channelStyle(key).color}
              strokeWidth={channelStyle(key).width}
              strokeDasharray={channelStyle(key).dash ?? ''}
            />
          ))}
        </LineChart>
      )}
    </div>
  );
});
