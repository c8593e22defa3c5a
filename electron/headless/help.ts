/** What `headless help` prints. */
export const HELP = `Stillpoint without a window. JSON on standard output; errors on standard error, exit code 2.

  saturation REFRIGERANT VALUE UNIT [--altitude 600ft]
      Bubble and dew points at a pressure or a temperature: saturation R-410A 118 psig

  analyze FILE.csv --refrigerant R-410A --metering txv|fixed|eev --mode cooling|heating
          [--target-subcooling 10degF] [--target-superheat 12degF] [--altitude 600ft]
          [--accuracy FILE.json] [--minimum-run 10min]
          [--standard ra32Installer|ra32Rater|acca5] [--chart chargingChart|ra32]
          [--airflow unknown|attested|1000cfm|0.47m3/s] [--heat-pump]
          [--observed icedCoil,dirtyFilter,...] [--checked drierDrop=none ...]
          [--baseline HEALTHY.csv: this unit on a day when it was healthy]
          [--twin LIKE.csv: a like unit under the same conditions, sound or not]
          [--displacement 5.8m3/h: swept volume of the compressor]
          [--maker FILE.json: a line of the maker's chart]
      The states of a logged session with their reasons, a snapshot of every settled span, and of
      the last one: targets, verdicts, figures, suspects with their evidence, the next check, and
      what stands in the way of a judgement, what came after the readings judged; where it ends at
      rest, the standing check.
      Header of the table: time[s] (or [min], [ms]) or time (ISO 8601), then channel[unit], one
      column for each channel; round brackets, blanks and the names of the screens will do as well.
      Or a row for each reading: time, channel, value and unit. Text in UTF-8 or UTF-16.
      The accuracy file holds the 95 % limits of sensors by channel:
      {"suctionPressure": {"ofFullScale": {"percent": 1, "fullScale": "800 psig"}},
       "liquidPressure": {"ofReading": {"percent": 0.5}},
       "suctionLineTemp": {"absolute": "1 degF"}}
      The maker file holds one line of the chart as printed, with its conditions where it names
      them; a value without a tolerance takes the usual one:
      {"at": {"outdoorAir": "95 degF", "returnAir": "80 degF", "returnWetBulb": "67 degF"},
       "suctionPressure": "130 psig", "liquidPressure": "380 psig", "superheat": "10 degF",
       "subcooling": {"value": "10 degF", "tolerance": "2 degF"}}
      Also evaporating, condensing, discharge, airChange, current.

  compare A.csv B.csv ... (options as for analyze, without --baseline and --twin;
          they hold for all files)
          [--observed A:icedCoil,dirtyFilter ...]
      Two or more like units side by side, corrected for their conditions: the differences, what
      they point to, and the suspects of each. The files are called A, B, ... in their order.

  simulate SCENARIO.json --out FILE.csv [--force] [--unit A] [--units us|si]
      The measured stream of a virtual unit (the first, where none is named) as a table. An earlier
      table is replaced; any other file that is there is written over with --force only.

  convert JOB.stillpoint --out FILE.csv [--force] [--session ID] [--unit A] [--units us|si]
      A recorded session (the last, where none is named) as a table, in order of time. In us units
      a number may read back off by its last bit; in si units (Pa absolute, K) each is the very
      same.

  replay JOB.stillpoint
      Recomputes every stored snapshot and says whether it agrees to the last bit.

The program advises; the nameplate, the maker's instructions, local codes and a licensed person
decide.
`;
