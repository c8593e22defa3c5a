import { readFileSync } from 'node:fs';
import { casesOf, visitsOf, designOf } from './cases.ts';
import { labelledInput, wrongInstrument, wrongRefrigerant, SENSOR_CLASSES } from './readings.ts';
import { judgeUnit } from '../../../core/checks/running.ts';
import { bySuspect } from '../../../core/diagnosis/suspects.ts';
import { printComparison, printReport } from './report.ts';
import type { Scored } from './score.ts';
const half = 'tuning' as const;
const truths = JSON.parse(readFileSync('/tmp/diagnosis-tuning-f4e0861102d40fff.json', 'utf8'));
const cases = casesOf(half);
const vc = visitsOf(cases, half);
console.log(cases.length, vc.length, truths.length);
const visits = new Map(
  vc.map((v, i) => [designOf(v), { case: v, truth: truths[cases.length + i] }]),
);
for (const known of ['rules', 'baseline'] as const)
  for (const set of ['all', 'half'] as const) {
    const out: Scored[] = [];
    cases.forEach((c, i) => {
      const truth = truths[i];
      if (truth.channels.suctionPressure === undefined) return;
      const visit = known === 'baseline' ? (visits.get(designOf(c)) ?? null) : null;
      for (const sensors of SENSOR_CLASSES)
        for (let draw = 0; draw < 2; draw++) {
          const o = { sensors, set, draw, visit };
          const l = [labelledInput(c, truth, o)];
          if (c.label === 'nothingWrong' && draw === 0) {
            if (i % 3 === 0) l.push(wrongInstrument(c, truth, o));
            if (i % 6 === 1) l.push(wrongRefrigerant(c, truth, o));
          }
          for (const { label, severity, input } of l) {
            const { diagnosis } = judgeUnit(input).judgement;
            const m = new Map(diagnosis.suspects.map((s) => [s.key, s.probability]));
            out.push({
              label,
              severity,
              mode: input.config.mode,
              metering: input.config.metering,
              ranked: diagnosis.suspects.map((s) => s.key),
              probability: bySuspect((k) => m.get(k) ?? 0),
              answer: diagnosis.answer,
            });
          }
        }
    });
    printComparison(known, set, out, out, 0);
    if (set === 'all') printReport(out);
  }
