import { memo, useMemo, type ReactNode } from 'react';
import { CartesianGrid, Line, LineChart, XAxis, YAxis, type DotItemDotProps } from 'recharts';
import { channelRow, type ChannelKey } from '../../core/stream/channels.ts';
import type { Quantity } from '../../core/units/symbols.ts';
import type { TrendLine } from '../../electron/bridge/views.ts';
import { channelNumber, channelUnit, fixed, timeMark, type UnitSystem } from '../app/format.ts';
import { alignLines, lonely, type AlignedRow } from './align.ts';
import { channelStyle } from './line-style.ts';
import { timeTicks } from './closing-in.ts';
import { useSize } from './use-size.ts';
import { valueAxis, type ValueAxis } from './value-axis.ts';

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
/** What an axis spans at least, in SI: a reading at rest is not to look as if it moved. */
const LEAST_SPAN: Partial<Record<Quantity, number>> = { pressure: 3e4, temperature: 2 };
/** From this height on there is room for the unit above its axis, px. */
const UNIT_HEIGHT = 150;
const MARGIN = { top: 6, right: 8, bottom: 0, left: 0 };

/** Numbers of marks for which a chart of this height has room. */
function marksFor(height: number): readonly number[] {
  return height > UNIT_HEIGHT ? [4, 5, 6, 7] : [3, 4, 5];
}

/** The axis of all that is drawn, in the unit shown; null where there is nothing. */
function axisOf(
  rows: readonly AlignedRow[],
  first: ChannelKey | undefined,
  system: UnitSystem,
  atmosphere: number,
  height: number,
): ValueAxis | null {
  const values = rows.flatMap((row) => row.values).filter((v) => v !== null);
  if (values.length === 0 || first === undefined) return null;
  const shown = (si: number) => channelNumber(first, si, system, atmosphere);
  const leastSpan = shown(LEAST_SPAN[channelRow(first).quantity] ?? 0) - shown(0);
  return valueAxis(Math.min(...values), Math.max(...values), marksFor(height), leastSpan);
}

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
  const alone = useMemo(
    () => keys.map((_, i) => lonely(rows.map((row) => row.values[i]))),
    [rows, keys],
  );
  const axis = useMemo(
    () => axisOf(rows, keys[0], system, atmosphere, height),
    [rows, keys, system, atmosphere, height],
  );
  return (
    <div ref={ref} className="trend-plot" role="img" aria-label={props.label}>
      {width > 60 && height > 40 && (
        <LineChart
          width={width}
          height={height}
          data={rows}
          margin={height > UNIT_HEIGHT ? { ...MARGIN, top: 22 } : MARGIN}
          accessibilityLayer={false}
        >
          {height > UNIT_HEIGHT && keys[0] !== undefined && (
            <text className="trend-unit" x={4} y={13}>
              {channelUnit(keys[0], system).text}
            </text>
          )}
          <CartesianGrid stroke="var(--hair)" vertical={false} />
          <XAxis
            dataKey="t"
            type="number"
            domain={[from, to]}
            ticks={[...timeTicks(from, to, Math.max(2, width / 110))]}
            tickFormatter={timeMark}
            tick={{ fill: 'var(--ink-2)', fontSize: 13 }}
            stroke="var(--rule)"
            height={22}
          />
          <YAxis
            domain={[axis?.marks[0] ?? 0, axis?.marks.at(-1) ?? 1]}
            ticks={[...(axis?.marks ?? [])]}
            tickFormatter={(mark: number) => fixed(mark, axis?.decimals ?? 0)}
            interval={0}
            width={46}
            tick={{ fill: 'var(--ink-2)', fontSize: 13 }}
            stroke="var(--rule)"
          />
          {keys.map((key, i) => (
            <Line
              key={key}
              dataKey={(row: { values: (number | null)[] }) => row.values[i] ?? null}
              name={key}
              dot={
                alone[i] !== undefined &&
                ((dot) => lonelyDot(dot, alone[i], channelStyle(key).color))
              }
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

/** A value that no line leads to or from, as one typed by hand, is drawn as a dot. */
function lonelyDot(
  { cx, cy, index }: DotItemDotProps,
  alone: ReadonlySet<number> | undefined,
  color: string,
): ReactNode {
  return alone?.has(index) === true ? (
    <circle key={index} cx={cx} cy={cy} r="4" fill={color} />
  ) : null;
}
