import { memo, useMemo, type ReactNode } from 'react';
import type { RefrigerantId } from '../../core/refrigerant/types.ts';
import { channelNumber, channelUnit, type UnitSystem } from '../app/format.ts';
import { cycleOf, domeLine, type CycleInput, type CyclePoint, enthalpySpan } from './cycle.ts';
import { useSize } from './use-size.ts';

export interface CycleChartProps {
  readonly refrigerant: RefrigerantId;
  readonly input: CycleInput;
  readonly system: UnitSystem;
  readonly atmosphere: number;
}

const MARGIN = { left: 40, right: 10, top: 10, bottom: 22 };
/** Air about the dome, as factors of pressure. */
const P_LOW = 0.75;
const P_FLOOR = 2e5;
/** Gauge pressures named on the axis, which is one of logarithms. */
const MARKS: Record<UnitSystem, readonly number[]> = {
  us: [50, 100, 200, 500],
  si: [200, 500, 1000, 2000, 4000],
  bar: [2, 5, 10, 20, 40],
};

/** The cycle on the pressure-enthalpy chart, with the dome of the refrigerant behind it. */
export const CycleChart = memo(function CycleChart(props: CycleChartProps): ReactNode {
  const { ref, width, height } = useSize<HTMLDivElement>();
  return (
    <div ref={ref} className="cycle-plot">
      {width > 100 && height > 80 && <Picture {...props} width={width} height={height} />}
    </div>
  );
});

function Picture(
  props: CycleChartProps & { readonly width: number; readonly height: number },
): ReactNode {
  const { refrigerant, input, system, width, height } = props;
  const dome = useMemo(() => domeLine(refrigerant), [refrigerant]);
  const cycle = cycleOf(refrigerant, input);
  const pMax = Math.max(...dome.map((d) => d.p)) * 1.05;
  const pMin = Math.min(P_FLOOR, (input.suctionPressure ?? P_FLOOR) * P_LOW);
  const { low: hLow, high: hHigh } = enthalpySpan(dome, cycle);
  const x = (h: number) =>
    MARGIN.left + ((h - hLow) / (hHigh - hLow)) * (width - MARGIN.left - MARGIN.right);
  const y = (p: number) =>
    MARGIN.top +
    (Math.log(pMax / p) / Math.log(pMax / pMin)) * (height - MARGIN.top - MARGIN.bottom);
  const line = (points: readonly CyclePoint[]) =>
    points
      .map((c, i) => `${i === 0 ? 'M' : 'L'}${x(c.h).toFixed(1)} ${y(c.p).toFixed(1)}`)
      .join('');
  const visible = dome.filter((d) => d.p >= pMin);
  return (
    <svg
      width={width}
      height={height}
      role="img"
      aria-label={`The cycle of ${refrigerant} on the pressure-enthalpy chart`}
    >
      <path d={line(visible)} className="dome" />
      {/* The curves end below the critical point: the sides are drawn, the top stays open. */}
      <path d={line(visible.slice(0, visible.length / 2))} className="dome-side" />
      <path d={line(visible.slice(visible.length / 2))} className="dome-side" />
      <Ticks {...props} y={y} pMin={pMin} pMax={pMax} />
      <Edge
        from={cycle.suction}
        to={cycle.discharge}
        line={line}
        ideal={!cycle.dischargeMeasured}
      />
      <Edge from={cycle.discharge} to={cycle.liquid} line={line} color="var(--high)" />
      <Edge from={cycle.liquid} to={cycle.expanded} line={line} />
      <Edge from={cycle.expanded} to={cycle.suction} line={line} color="var(--low)" />
      {[cycle.suction, cycle.discharge, cycle.liquid, cycle.expanded].map((c, i) =>
        c === null ? null : <circle key={i} cx={x(c.h)} cy={y(c.p)} r="4.5" fill="var(--ink)" />,
      )}
      <text x={4} y={height - 6} className="cycle-axis">
        ↑ {channelUnit('suctionPressure', system).text}
      </text>
      <text x={width - MARGIN.right} y={height - 6} textAnchor="end" className="cycle-axis">
        enthalpy →
      </text>
    </svg>
  );
}

function Edge(p: {
  readonly from: CyclePoint | null;
  readonly to: CyclePoint | null;
  readonly line: (points: readonly CyclePoint[]) => string;
  readonly color?: string;
  readonly ideal?: boolean;
}): ReactNode {
  if (p.from === null || p.to === null) return null;
  return (
    <path
      d={p.line([p.from, p.to])}
      stroke={p.color ?? 'var(--ink)'}
      strokeWidth="3.5"
      strokeDasharray={p.ideal === true ? '5 4' : undefined}
    />
  );
}

function Ticks(p: {
  readonly height: number;
  readonly width: number;
  readonly system: UnitSystem;
  readonly atmosphere: number;
  readonly y: (p: number) => number;
  readonly pMin: number;
  readonly pMax: number;
}): ReactNode {
  const zero = channelNumber('suctionPressure', 0, p.system, p.atmosphere);
  const perPa = channelNumber('suctionPressure', 1, p.system, p.atmosphere) - zero;
  return (
    <g className="axis">
      {MARKS[p.system].map((shown) => {
        const pascal = (shown - zero) / perPa;
        if (pascal < p.pMin || pascal > p.pMax) return null;
        return (
          <text key={shown} x={MARGIN.left - 6} y={p.y(pascal) + 4} textAnchor="end">
            {shown}
          </text>
        );
      })}
    </g>
  );
}
