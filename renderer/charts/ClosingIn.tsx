import { memo, type ReactNode } from 'react';
import type { QuantityMotion, SteadinessState, TimeLeft } from '../../core/steadiness/types.ts';
import type { TrendLine } from '../../electron/bridge/views.ts';
import { QUANTITY_TEXT } from '../app/text.ts';
import { durationText, timeMark } from '../app/format.ts';
import {
  closingLine,
  depthOf,
  DISTANCE_TICKS,
  pathOf,
  spread,
  timeTicks,
  type ClosingLine,
} from './closing-in.ts';
import { quantityStyle } from './line-style.ts';
import { useSize } from './use-size.ts';

export interface ClosingInProps {
  readonly motions: readonly QuantityMotion[];
  readonly lines: readonly TrendLine[];
  readonly from: number;
  readonly now: number;
  readonly state: SteadinessState;
  /** Whether the state says that the means are at rest. */
  readonly rest: boolean;
  readonly since: number;
  readonly timeLeft: TimeLeft | null;
  /** What stands in the picture while nothing is drawn in it. */
  readonly empty: string;
}

const MARGIN = { left: 46, right: 14, top: 10, bottom: 26 };
const LABEL_GAP = 19;
/** Share of the width kept right of now for labels and the forecast. */
const AHEAD_MIN = 0.2;
const AHEAD_MAX = 0.4;
/** A time mark keeps this far from now, where the forecast is written, px. */
const TICK_ROOM = 74;

interface Scale {
  readonly x: (t: number) => number;
  readonly y: (distance: number) => number;
  readonly width: number;
  readonly height: number;
  /** CSS pixels of one second. */
  readonly perSecond: number;
}

function scaleOf(p: ClosingInProps, width: number, height: number): Scale {
  const span = Math.max(60, p.now - p.from);
  const wanted = p.timeLeft === null ? 0 : (p.timeLeft.to * 1.15) / (span + p.timeLeft.to * 1.15);
  const ahead = Math.min(AHEAD_MAX, Math.max(AHEAD_MIN, wanted));
  const to = p.now + (span * ahead) / (1 - ahead);
  const inner = width - MARGIN.left - MARGIN.right;
  const tall = height - MARGIN.top - MARGIN.bottom;
  const start = p.now - span;
  return {
    x: (t) => MARGIN.left + ((t - start) / (to - start)) * inner,
    y: (d) => MARGIN.top + depthOf(d) * tall,
    width,
    height,
    perSecond: inner / (to - start),
  };
}

/**
 * Every quantity's distance from where it heads, in its own tolerances, over time: all lines close
 * into one band. When the last is inside, the circuit is still.
 */
export const ClosingIn = memo(function ClosingIn(props: ClosingInProps): ReactNode {
  const { ref, width, height } = useSize<HTMLDivElement>();
  return (
    <div ref={ref} className="closing-plot">
      {width > 120 && height > 80 && <Picture {...props} width={width} height={height} />}
    </div>
  );
});

function Picture(
  props: ClosingInProps & { readonly width: number; readonly height: number },
): ReactNode {
  const scale = scaleOf(props, props.width, props.height);
  const lines = props.motions
    .map((m) => closingLine(m, props.lines.find((l) => l.key === m.key)?.points ?? []))
    .filter((line) => line !== null);
  return (
    <svg
      width={props.width}
      height={props.height}
      role="img"
      aria-label={summary(lines, props.empty)}
    >
      <Band {...props} scale={scale} />
      <Axes from={props.from} now={props.now} scale={scale} />
      <Swing line={widest(lines)} scale={scale} now={props.now} />
      {lines.map((line) => (
        <path
          key={line.key}
          d={pathOf(line.points, scale.x, scale.y)}
          fill="none"
          stroke={quantityStyle(line.key).color}
          strokeWidth={quantityStyle(line.key).width}
          strokeDasharray={quantityStyle(line.key).dash}
          strokeLinejoin="round"
        />
      ))}
      <Forecast timeLeft={props.timeLeft} now={props.now} scale={scale} />
      <Ends lines={lines} scale={scale} now={props.now} />
      {lines.length === 0 && (
        <text
          className="closing-empty"
          x={(MARGIN.left + scale.x(props.now)) / 2}
          y={scale.y(5)}
          textAnchor="middle"
        >
          {props.empty}
        </text>
      )}
    </svg>
  );
}

function summary(lines: readonly ClosingLine[], empty: string): string {
  if (lines.length === 0) return `Closing in. ${empty}`;
  const parts = lines.map((line) => {
    const name = QUANTITY_TEXT[line.key].long;
    return line.inside
      ? `${name} is inside its band`
      : `${name} is ${Math.abs(line.now).toFixed(1)} tolerances away`;
  });
  return `Closing in: ${parts.join(', ')}.`;
}

function Band({
  rest,
  since,
  now,
  from,
  scale,
}: ClosingInProps & { readonly scale: Scale }): ReactNode {
  const top = scale.y(1);
  const tall = scale.y(-1) - top;
  const { left } = MARGIN;
  const start = scale.x(Math.max(from, Math.min(since, now)));
  return (
    <g>
      <rect
        x={left}
        y={top}
        width={scale.width - MARGIN.right - left}
        height={tall}
        fill="var(--still-wash)"
      />
      {rest && (
        <rect x={start} y={top} width={scale.x(now) - start} height={tall} className="band-still" />
      )}
      <path
        d={`M${left} ${top} H${scale.width - MARGIN.right} M${left} ${top + tall} H${scale.width - MARGIN.right}`}
        stroke="var(--still)"
        strokeWidth="2"
      />
    </g>
  );
}

function Axes(p: {
  readonly from: number;
  readonly now: number;
  readonly scale: Scale;
}): ReactNode {
  const { scale } = p;
  const bottom = scale.height - MARGIN.bottom;
  const roomy = scale.height > 200;
  const ticks = DISTANCE_TICKS.filter((d) => roomy || Math.abs(d) !== 3);
  return (
    <g className="axis">
      {ticks.map((d) => (
        <g key={d}>
          {Math.abs(d) !== 1 && (
            <path
              d={`M${MARGIN.left} ${scale.y(d)} H${scale.width - MARGIN.right}`}
              stroke="var(--hair)"
            />
          )}
          <text x={MARGIN.left - 8} y={scale.y(d) + 4} textAnchor="end">
            {d > 0 ? `+${d}×` : `−${-d}×`}
          </text>
        </g>
      ))}
      {timeTicks(p.from, p.now - TICK_ROOM / scale.perSecond, Math.max(2, scale.width / 120)).map(
        (t) => (
          <text key={t} x={scale.x(t)} y={bottom + 18} textAnchor="middle">
            {timeMark(t)}
          </text>
        ),
      )}
      <path
        d={`M${scale.x(p.now)} ${MARGIN.top} V${bottom}`}
        stroke="var(--ink)"
        strokeWidth="1.5"
      />
    </g>
  );
}

/** The line that swings most, beyond its band: one envelope tells more than five. */
function widest(lines: readonly ClosingLine[]): ClosingLine | null {
  const swinging = lines.filter((line) => line.swing !== null && line.swing > 1);
  return swinging.sort((a, b) => (b.swing ?? 0) - (a.swing ?? 0))[0] ?? null;
}

function Swing(p: {
  readonly line: ClosingLine | null;
  readonly scale: Scale;
  readonly now: number;
}): ReactNode {
  if (p.line === null || p.line.swing === null) return null;
  const { color } = quantityStyle(p.line.key);
  const top = p.scale.y(p.line.now + p.line.swing);
  const bottom = p.scale.y(p.line.now - p.line.swing);
  const x = p.scale.x(p.now);
  return (
    <g>
      <rect x={x} y={top} width={10} height={bottom - top} fill={color} opacity="0.25" />
      <path
        d={`M${MARGIN.left} ${top} H${x + 10} M${MARGIN.left} ${bottom} H${x + 10}`}
        stroke={color}
        strokeDasharray="2 4"
      />
    </g>
  );
}

function Ends(p: {
  readonly lines: readonly ClosingLine[];
  readonly scale: Scale;
  readonly now: number;
}): ReactNode {
  const top = MARGIN.top + 8;
  const bottom = p.scale.height - MARGIN.bottom - 8;
  // Where the picture is too low for all labels they overlap a little rather than leave it.
  const gap = Math.min(LABEL_GAP, (bottom - top) / Math.max(1, p.lines.length - 1));
  const placed = spread(
    p.lines.map((line) => p.scale.y(line.now)),
    gap,
    top,
    bottom,
  );
  const x = p.scale.x(p.now);
  return (
    <g className="closing-ends">
      {p.lines.map((line, i) => {
        const y = p.scale.y(line.now);
        const yLabel = placed[i] ?? y;
        const { color } = quantityStyle(line.key);
        return (
          <g key={line.key} fill={color}>
            <path d={`M${x} ${y} L${x + 14} ${yLabel}`} stroke={color} strokeWidth="1.5" />
            <circle cx={x} cy={y} r="5" />
            <text x={x + 18} y={yLabel + 5}>
              {QUANTITY_TEXT[line.key].short}
            </text>
          </g>
        );
      })}
    </g>
  );
}

function Forecast(p: {
  readonly timeLeft: TimeLeft | null;
  readonly now: number;
  readonly scale: Scale;
}): ReactNode {
  if (p.timeLeft === null) return null;
  const { scale, timeLeft, now } = p;
  const limit = scale.width - MARGIN.right;
  const a = Math.min(limit, scale.x(now + timeLeft.from));
  const b = Math.min(limit, scale.x(now + timeLeft.to));
  const at = Math.min(limit, scale.x(now + timeLeft.seconds));
  const y = scale.height - MARGIN.bottom;
  const top = scale.y(1);
  return (
    <g className="forecast">
      <rect x={a} y={top} width={Math.max(2, b - a)} height={scale.y(-1) - top} opacity="0.28" />
      <path d={`M${a} ${y} H${b}`} strokeWidth="6" />
      <path d={`M${at} ${top} V${y}`} strokeWidth="2" strokeDasharray="4 3" />
      <text
        x={Math.min(limit, Math.max(a, at))}
        y={y + 18}
        textAnchor={at > limit - 70 ? 'end' : 'middle'}
      >
        {timeLeft.seconds < 10 ? 'still soon' : `still in ${durationText(timeLeft.seconds)}`}
      </text>
    </g>
  );
}
