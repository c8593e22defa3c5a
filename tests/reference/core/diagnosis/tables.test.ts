import { describe, expect, it } from 'vitest';
import { CHARGING_CHART } from '../../../../core/diagnosis/data/charging-chart.ts';
import { TARGET_SPLIT_RA32 } from '../../../../core/diagnosis/data/target-split-ra32.ts';
import { TARGET_SUPERHEAT_RA32 } from '../../../../core/diagnosis/data/target-superheat-ra32.ts';
import { lookUp, parseTable, type PrintedTable } from '../../../../core/diagnosis/table.ts';

function value(table: PrintedTable, row: number, column: number): number {
  const found = lookUp(table, row, column);
  if (!found.ok) throw new Error(JSON.stringify(found.error));
  return found.value.value;
}

function* printed(table: PrintedTable) {
  for (const [i, row] of table.rows.entries()) {
    for (const [j, column] of table.columns.entries()) {
      yield { row, column, cell: table.cells[i]?.[j] ?? NaN };
    }
  }
}

describe('the printed tables', () => {
  it('give back every printed cell and refuse every dash', () => {
    for (const table of [CHARGING_CHART, TARGET_SUPERHEAT_RA32, TARGET_SPLIT_RA32]) {
      for (const { row, column, cell } of printed(table)) {
        const found = lookUp(table, row, column);
        if (Number.isNaN(cell)) expect(found).toMatchObject({ error: { code: 'IN_THE_DASHES' } });
        else expect(found.ok && found.value.value).toBeCloseTo(cell, 6);
      }
    }
  });

  // Cells read off the print: Carrier 38VTA table 4 (15 at 95/68 would be the next column: 14).
  it('hold single cells of the charging chart', () => {
    expect(value(CHARGING_CHART, 95, 68)).toBe(14);
    expect(value(CHARGING_CHART, 75, 62)).toBe(15);
    expect(value(CHARGING_CHART, 115, 76)).toBe(23);
    expect(value(CHARGING_CHART, 55, 50)).toBe(9);
  });

  // The whole print of Lennox 14ACX, p. 26, read apart from the table held here; its copies differ
  // by one degree in single cells.
  it('agree cell by cell with a second print of the charging chart', () => {
    const second = [
      '40 15 18 20 23 26 29 32 34 38 41 43 46 48 51',
      '45 13 16 18 21 24 27 30 33 36 39 41 44 46 49',
      '50 11 14 16 19 22 25 28 31 34 37 39 42 44 47',
      '55 9 12 14 17 20 23 27 30 33 36 38 40 42 44',
      '60 7 10 12 15 18 21 24 27 30 33 35 38 40 43',
      '65 - 6 10 13 16 19 21 24 27 30 33 36 38 41',
      '70 - - 7 10 13 16 19 21 24 27 30 33 36 39',
      '75 - - - 6 9 12 15 18 21 24 28 31 34 37',
      '80 - - - - 5 8 12 15 18 21 25 28 31 35',
      '85 - - - - - - 8 11 15 19 22 26 30 33',
      '90 - - - - - - 5 9 13 16 20 24 27 31',
      '95 - - - - - - - 6 10 14 18 22 25 29',
      '100 - - - - - - - - 8 12 16 21 24 28',
      '105 - - - - - - - - 5 9 13 17 22 26',
      '110 - - - - - - - - - 6 11 15 20 25',
      '115 - - - - - - - - - - 8 14 18 23',
    ];
    expect(second).toHaveLength(CHARGING_CHART.rows.length);
    for (const line of second) {
      const [row, ...cells] = line.split(' ');
      for (const [j, cell] of cells.entries()) {
        const found = lookUp(CHARGING_CHART, Number(row), 50 + 2 * j);
        expect(found.ok, `${row ?? ''} ${50 + 2 * j}`).toBe(cell !== '-');
        if (!found.ok) continue;
        expect(Math.abs(found.value.value - Number(cell))).toBeLessThanOrEqual(1);
      }
    }
  });

  it('interpolate between cells and give the slopes there', () => {
    expect(value(CHARGING_CHART, 97.5, 69)).toBeCloseTo((14 + 18 + 12 + 15) / 4, 9);
    const found = lookUp(CHARGING_CHART, 97.5, 69);
    expect(found).toMatchObject({ ok: true });
    if (found.ok) {
      expect(found.value.perColumn).toBeCloseTo((4 / 2 + 3 / 2) / 2, 9);
      expect(found.value.perRow).toBeCloseTo((-2 / 5 + -3 / 5) / 2, 9);
    }
  });

  it('refuse between a number and a dash, and outside, and never extrapolate', () => {
    expect(lookUp(CHARGING_CHART, 95, 63)).toMatchObject({ error: { code: 'IN_THE_DASHES' } });
    expect(lookUp(CHARGING_CHART, 116, 70)).toMatchObject({
      error: { code: 'OUTSIDE_TABLE', axis: 'row', min: 40, max: 115 },
    });
    expect(lookUp(CHARGING_CHART, 95, 49.9)).toMatchObject({
      error: { code: 'OUTSIDE_TABLE', axis: 'column', min: 50, max: 76 },
    });
    expect(lookUp(CHARGING_CHART, NaN, 60).ok).toBe(false);
  });

  // The recalled California table against the manufacturer chart it descends from: 115 common
  // cells, at most 1.0 °F apart.
  it('agree with each other where they overlap', () => {
    let common = 0;
    for (const { row, column, cell } of printed(CHARGING_CHART)) {
      if (row < 55 || Number.isNaN(cell)) continue;
      const other = lookUp(TARGET_SUPERHEAT_RA32, row, column);
      if (!other.ok) continue;
      common += 1;
      expect(Math.abs(other.value.value - cell)).toBeLessThanOrEqual(1.05);
    }
    expect(common).toBeGreaterThanOrEqual(115);
  });

  // The quadratic found to hold for Table RA3.2-3: its rounding (0.05) and that of the
  // six-digit coefficients remain.
  it('hold the temperature split on one quadratic within 0.052 °F', () => {
    let cells = 0;
    for (const { row, column, cell } of printed(TARGET_SPLIT_RA32)) {
      if (Number.isNaN(cell)) continue;
      cells += 1;
      const w = column - 63;
      const fit = 19.6995 + 0.544231 * (row - 77) - 0.678411 * w - 0.0228199 * w * w;
      expect(Math.abs(cell - fit)).toBeLessThan(0.052);
    }
    expect(cells).toBe(357);
  });

  // Common trade formula (3 WB - 80 - DB) / 2, no standard behind it: within 5 °F for 99 % of cells.
  it('lie near the field formula', () => {
    const off = [...printed(TARGET_SUPERHEAT_RA32)]
      .filter((c) => !Number.isNaN(c.cell))
      .map((c) => Math.abs(c.cell - (3 * c.column - 80 - c.row) / 2));
    const near = off.filter((x) => x <= 5).length / off.length;
    expect(near).toBeGreaterThan(0.985);
  });

  it('cannot be parsed with a cell missing', () => {
    expect(() => parseTable('10 20\n1 5')).toThrow('row 1: 1 cells');
  });
});
