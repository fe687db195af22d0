import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { folder, P1, WEIR } from './import-scene.ts'

describe('a piece to share', () => {
  const exported = async () => {
    const who = folder()
    await who.type('piece', 'import', who.weir, ...P1)
    const file = join(who.home, 'weir.json')
    return { ...who, file, said: await who.type('piece', 'export', WEIR, file) }
  }

  test('is one readable file that another player can import', async () => {
    const { file, said, json } = await exported()
    expect(said).toMatchObject({ status: 0, err: '' })
    const other = folder()
    expect(await other.type('piece', 'import', file)).toMatchObject({ status: 0, err: '' })
    expect((await other.json('piece', 'show', WEIR)).passages).toEqual(
      (await json('piece', 'show', WEIR)).passages,
    )
  })

  test('goes over no file unless that is said, and leaves no other behind', async () => {
    const { file, home, type } = await exported()
    writeFileSync(file, 'mine')
    expect((await type('piece', 'export', WEIR, file)).err).toMatch(/weir.json" .* another name, or --force/)
    expect(readFileSync(file, 'utf8')).toBe('mine')
    expect(await type('piece', 'export', WEIR, file, '--force')).toMatchObject({ status: 0 })
    expect(JSON.parse(readFileSync(file, 'utf8')).title).toBe(WEIR)
    expect((await type('piece', 'export', WEIR, join(home, 'weir.xml'))).err).toMatch(/ending in .json/)
    expect((await type('piece', 'export', 'Reed', file)).status).toBe(2)
    expect((await type('piece', 'export', WEIR, join(home, 'none', 'a.json'))).status).toBe(1)
    expect(readdirSync(home).filter(n => n.includes('tmp'))).toEqual([])
  })

  test('that is there already is not added again; changed and under another title it gets ids of its own', async () => {
    const { file, type, json, pieces } = await exported()
    const before = pieces()
    expect((await type('piece', 'import', file)).out).toMatch(/Nothing was added/)
    writeFileSync(file, readFileSync(file, 'utf8').replace('"goal": "96"', '"goal": "90"'))
    expect((await type('piece', 'import', file)).out).toMatch(/Nothing was added.*--again.*--title/)
    expect(pieces()).toEqual(before)
    expect((await type('piece', 'import', file, '--title', 'Reed')).status).toBe(0)
    const [weir, reed] = [await json('piece', 'show', WEIR), await json('piece', 'show', 'Reed')]
    expect(reed.passages[0]).toMatchObject({ goal: '90', measures: 6 })
    expect([weir.id, weir.passages[0].id]).not.toContain(reed.id)
    expect(reed.passages[0].id).not.toBe(weir.passages[0].id)
  })

  test('may hold no passage yet', async () => {
    const { home, type, json } = folder()
    const file = join(home, 'reed.json')
    writeFileSync(file, '{"v":1,"id":"reed1","title":"Reed","passages":[]}')
    expect(await type('piece', 'import', file)).toMatchObject({
      status: 0,
      out: expect.stringMatching(/^Reed\n/),
    })
    expect((await json('piece', 'show', 'Reed')).passages).toEqual([])
  })

  test('is no score', async () => {
    const { file, type } = await exported()
    expect((await type('piece', 'import', file, '--passages')).err).toMatch(
      /"weir.json".* for --passages.* a score/,
    )
  })
})
