import { parseAuto } from 'musicxml-io'
import { importFrom, importScore } from '../../src/score/import-score.ts'
import { readScore } from '../../src/score/read-score.ts'
import { NOT_WELL_FORMED } from '../score/not-well-formed.ts'
import { must } from '../score/scores.ts'

export { importFrom, importScore, must, NOT_WELL_FORMED, parseAuto, readScore }

const STEPS = ['C', 'D', 'E', 'F', 'G', 'A', 'B']

/** A note as notation programs write it, with all that is for the eye only. */
const note = (step: string, octave: number, i: number, slur: boolean, long: boolean): string => `
      <note default-x="${80 + 17 * i}.53" default-y="-${15 + i}">
        <pitch>
          <step>${step}</step>
          <octave>${octave}</octave>
        </pitch>
        <duration>${long ? 4 : 2}</duration>
        <voice>1</voice>
        <type>${long ? 'quarter' : 'eighth'}</type>
        <stem default-y="10.5">up</stem>
        <beam number="1">${i % 4 === 0 ? 'begin' : i % 4 === 3 ? 'end' : 'continue'}</beam>${
          slur
            ? `
        <notations>
          <slur number="1" placement="above" type="${i === 0 ? 'start' : 'stop'}"/>
        </notations>`
            : ''
        }
      </note>`

/** Measures of our own again and again: about 100 pages for four parts, 30 measures on each page. */
export const longScore = (measures: number, parts: number): string => {
  const measure = (m: number, p: number): string => `
    <measure number="${m + 1}" width="212.4">${
      m % 5 === 0
        ? `
      <print new-system="yes"><system-layout><system-distance>121</system-distance></system-layout></print>`
        : ''
    }${
      m === 0
        ? `
      <attributes><divisions>4</divisions><key><fifths>-2</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time><clef><sign>G</sign><line>2</line></clef></attributes>
      <direction placement="above"><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>112</per-minute></metronome></direction-type><sound tempo="112"/></direction>`
        : ''
    }${
      m % 24 === 23
        ? `
      <direction placement="above"><direction-type><rehearsal>${Math.ceil(m / 24)}</rehearsal></direction-type></direction>`
        : ''
    }${Array.from({ length: m % 2 === 0 ? 8 : 4 }, (_, i) =>
      note(
        STEPS[(m * (p + 3) + i * (1 + (m % 5))) % 7] ?? 'C',
        4 + ((m + i) % 2),
        i,
        i === 0 || i === (m % 2 === 0 ? 7 : 3),
        m % 2 === 1,
      ),
    ).join('')}
    </measure>`
  const ids = Array.from({ length: parts }, (_, p) => p)
  return `<?xml version="1.0" encoding="UTF-8"?>
<score-partwise version="4.0">
  <work><work-title>Weir Street Overture</work-title></work>
  <part-list>${ids.map(p => `<score-part id="P${p + 1}"><part-name>Part ${p + 1}</part-name></score-part>`).join('')}</part-list>
${ids.map(p => `  <part id="P${p + 1}">${Array.from({ length: measures }, (_, m) => measure(m, p)).join('')}\n  </part>`).join('\n')}
</score-partwise>`
}
