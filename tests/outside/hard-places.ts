/**
 * The two hardest places of twenty parts by musical reading: one reader went through each part note by note, before
 * the principle of the proposals was written, and noted what a player would take home from it. Measures as printed;
 * `again` is where the same music comes back. Scores: see openscore.test.ts; files by their collection number.
 */
export type HardPlace = {
  readonly from: number
  readonly to: number
  readonly again?: readonly (readonly [number, number])[]
  readonly why: string
}
export type ReadPart = {
  readonly file: string
  readonly part: string
  readonly movement?: string
  readonly places: readonly [HardPlace, HardPlace]
}

export const HARD_PLACES: readonly ReadPart[] = [
  {
    file: 'sq7070319',
    part: 'Violin 1',
    places: [
      { from: 113, to: 114, why: 'the only triplets, a run in harmonic minor, in unison with all' },
      {
        from: 43,
        to: 48,
        again: [[51, 56]],
        why: 'arpeggio to E flat 6, then suspensions with half steps in a high position',
      },
    ],
  },
  {
    file: 'sq7070319',
    part: 'Violin 2',
    places: [
      { from: 113, to: 114, why: 'the only triplets, a run in harmonic minor, in unison with all' },
      { from: 61, to: 62, why: 'a bare entrance at B 5 and C 6 after a rest, far above all before' },
    ],
  },
  {
    file: 'sq7070319',
    part: 'Viola',
    places: [
      { from: 113, to: 116, why: 'triplet runs in harmonic minor, twice' },
      { from: 39, to: 42, why: 'broken chords over the strings after a rest on the beat, into triplets' },
    ],
  },
  {
    file: 'sq7070319',
    part: 'Violoncello',
    places: [
      { from: 113, to: 116, why: 'triplet runs, the second one down to low C' },
      { from: 126, to: 128, why: 'the tune in the bass alone, with sixteenths low on the string' },
    ],
  },
  {
    file: 'sq7070781',
    part: 'Violin 1',
    places: [
      { from: 81, to: 87, why: 'triplet arpeggios over two octaves, with accidentals' },
      { from: 59, to: 62, why: 'dotted rhythm at E 6 and D 6, the highest notes of the part' },
    ],
  },
  {
    file: 'sq7070781',
    part: 'Violin 2',
    places: [
      { from: 101, to: 103, why: 'triplet arpeggio, then a turn in 32nds' },
      { from: 93, to: 95, why: 'a scale over nearly two octaves in eighths, through the positions' },
    ],
  },
  {
    file: 'sq7070781',
    part: 'Viola',
    places: [
      { from: 101, to: 102, why: 'two measures of triplet turns' },
      { from: 93, to: 95, why: 'a scale up into the high positions' },
    ],
  },
  {
    file: 'sq7070781',
    part: 'Violoncello',
    places: [
      { from: 101, to: 102, why: 'triplet turns high on the string' },
      { from: 98, to: 100, why: 'broken thirds down to low E, over the strings' },
    ],
  },
  {
    file: 'lc29748596',
    part: 'Chant',
    places: [
      {
        from: 10,
        to: 13,
        again: [[45, 48]],
        why: 'sudden flats, intervals that are hard to hear beforehand',
      },
      { from: 28, to: 33, why: 'new key, four in the time of three, ties over the beat' },
    ],
  },
  {
    file: 'lc29748596',
    part: 'Piano',
    places: [
      { from: 28, to: 34, why: 'eighths without a stop in octave leaps up to C sharp 7' },
      { from: 10, to: 13, again: [[45, 48]], why: 'three-note chords that leap, each in another key' },
    ],
  },
  {
    file: 'lc5051346',
    part: 'Voice',
    places: [
      {
        from: 23,
        to: 27,
        again: [[53, 57]],
        why: 'five sharps and chromatic steps, the only sixteenths, up to E 5',
      },
      { from: 28, to: 30, again: [[58, 60]], why: 'a seventh down, then up by thirds off the chord' },
    ],
  },
  {
    file: 'lc5051346',
    part: 'Piano',
    places: [
      { from: 59, to: 61, why: 'melody in octaves that leap a seventh, then up to chords at D sharp 6' },
      { from: 25, to: 27, again: [[55, 57]], why: 'sixteenths and chromatic steps above moving inner parts' },
    ],
  },
  {
    file: 'lc5644072',
    part: 'Pianoforte',
    places: [
      { from: 28, to: 33, why: 'broken chords in sixteenths handed from hand to hand, six measures' },
      { from: 16, to: 20, why: 'repeated chords full of double sharps, in both hands' },
    ],
  },
  {
    file: 'lc6010628',
    part: 'Chant Voice',
    places: [
      {
        from: 28,
        to: 31,
        again: [
          [66, 69],
          [104, 107],
        ],
        why: 'up by an augmented second, against the key, to G 5',
      },
      {
        from: 22,
        to: 25,
        again: [
          [60, 63],
          [98, 101],
        ],
        why: 'leap to G 5, then down in dotted notes with two accidentals',
      },
    ],
  },
  {
    file: 'lc6218732',
    part: 'Piano (For practice only)',
    places: [
      { from: 12, to: 12, why: 'two lines in one hand in quick eighths' },
      { from: 19, to: 19, why: 'thirds in one hand against wide intervals in the other' },
    ],
  },
  {
    file: 'lc6686592',
    part: 'Pianoforte',
    places: [
      { from: 55, to: 58, why: 'triplets that leap an octave each time, four sharps from nowhere' },
      {
        from: 32,
        to: 39,
        why: 'triplets broken in octaves and sevenths, chromatic, over the whole keyboard',
      },
    ],
  },
  {
    file: 'lc31184216',
    part: 'Soprano',
    places: [
      { from: 19, to: 20, again: [[54, 55]], why: 'the climax at G 5, and from E flat down a sixth' },
      { from: 16, to: 17, again: [[51, 52]], why: 'F 5, then a sixth down and on in dotted notes' },
    ],
  },
  {
    file: 'lc6688176',
    part: 'Tenor',
    places: [
      { from: 30, to: 31, why: 'eighths with B sharp, A sharp, G double sharp' },
      { from: 49, to: 50, why: 'a sixth down, up by accidentals, and G natural above' },
    ],
  },
  {
    file: 'sq8885439',
    part: 'Violoncello',
    movement: 'II',
    places: [
      { from: 14, to: 14, again: [[85, 85]], why: '32nds and a quintuplet, alone' },
      { from: 35, to: 39, why: 'the tune up to G 5, in thumb position' },
    ],
  },
  {
    file: 'sq13744399',
    part: 'Violin 1',
    movement: 'II',
    places: [
      { from: 33, to: 34, again: [[62, 63]], why: 'two measures of 32nds, chromatic, down two octaves' },
      { from: 19, to: 22, again: [[48, 51]], why: 'runs of a dozen notes in one beat, up to E flat 6' },
    ],
  },
]
