import { mkdirSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { barline, head, mark, note, scoreText, words } from '../score/scores.ts'
import { folder } from './import-scene.ts'

/** Two movements of four measures. */
const score = scoreText([
  words('I.') + head() + mark('quarter', '96') + note(16),
  ...Array(2).fill(note(16)),
  note(16) + barline('right', '<bar-style>light-heavy</bar-style>'),
  words('II. Slow') + head('3', 4) + mark('quarter', '60') + note(12),
  ...Array(3).fill(note(12)),
])

describe('a score in two movements', () => {
  test('becomes one piece with two passages, or two pieces, as the player says', async () => {
    const { type, json, put, pieces } = folder()
    const file = put('songs.musicxml', score)
    expect((await type('piece', 'import', file, '--whole')).status).toBe(0)
    expect(Object.keys(pieces()).length).toBe(1)
    const said = await type('piece', 'import', file, '--pieces', '--title', 'Two Songs')
    expect(said).toMatchObject({ status: 0, err: '' })
    expect(said.out).toMatch(/Two Songs: I\.[\s\S]*Two Songs: II\. Slow/)
    expect(Object.keys(pieces()).length).toBe(3)
    expect(await json('piece', 'show', 'slow')).toMatchObject({
      title: 'Two Songs: II. Slow',
      passages: [{ name: 'whole part', measures: 4, meter: '3/4', goal: '60' }],
    })
  })

  test('is one movement or all apart, not both; and one movement cannot be taken apart', async () => {
    const { type, put, weir } = folder()
    const both = await type('piece', 'import', put('songs.musicxml', score), '--pieces', '--movement', '1')
    expect(both.err).toContain('all movements apart, or one movement')
    expect((await type('piece', 'import', weir, '--part', 'oboe', '--pieces')).err).toContain('movements')
  })
})

describe('a score in the folder', () => {
  test('is found by any part of its name, or of its title', async () => {
    const { type, put } = folder()
    const songs = put('evening-songs.musicxml', score.replace('Weir Street Overture', 'Four Lanterns'))
    const near = (text: string) => join(dirname(songs), text)
    expect((await type('piece', 'import', near('songs'), '--movement', '1')).out).toContain('Four Lanterns')
    expect((await type('piece', 'import', near('lanterns'), '--movement', '2')).out).toContain('already')
    expect((await type('piece', 'import', near('nothing'))).status).not.toBe(0)
  })

  test('that several names fit is asked about', async () => {
    const { type, put } = folder()
    put('songs-1.musicxml', score)
    mkdirSync(join(dirname(put('songs-2.musicxml', score)), 'songs-3.musicxml'))
    const said = await type('piece', 'import', join(dirname(put('x.txt', '')), 'songs'))
    expect(said.err).toContain('one of songs-1.musicxml, songs-2.musicxml')
  })
})
