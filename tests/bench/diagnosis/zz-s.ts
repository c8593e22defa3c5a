import { readFileSync } from 'node:fs';
import { casesOf } from './cases.ts';
const t = JSON.parse(readFileSync('/tmp/diagnosis-tuning-f4e0861102d40fff.json', 'utf8'));
const c = casesOf('tuning');
const m = new Map<string, number[]>();
c.forEach((x, i) => {
  const k = `${x.label} ${x.metering} ${x.mode}`;
  m.set(k, [...(m.get(k) ?? []), t[i].swing_K]);
});
for (const [k, v] of m)
  if (v.some((x) => x > 1)) console.log(k, v.map((x) => x?.toFixed(1)).join(' '));
