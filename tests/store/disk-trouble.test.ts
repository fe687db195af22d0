import { existsSync, mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs'
import promises, { type FileHandle } from 'node:fs/promises'
import { syncBuiltinESMExports } from 'node:module'
import net from 'node:net'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { ok } from '../../src/music/result.ts'
import { readDay, writeDay } from '../../src/store/day-file.ts'
import { FILE_MODE, syncFolder, writeDurably } from '../../src/store/durable.ts'
import { ensureFolder } from '../../src/store/home.ts'
import { JOURNAL, type Journal, journalNotes, openJournal } from '../../src/store/journal.ts'
import { appendLines, logFiles } from '../../src/store/log.ts'
import { skippedLines } from '../../src/store/log-words.ts'
import { machineId } from '../../src/store/machine.ts'
import { acquirePractice, listenAt } from '../../src/store/practice-lock.ts'
import { readPresets, storePreset } from '../../src/store/presets.ts'
import { MOST_BYTES, openFile, readIfThere, readText } from '../../src/store/read-file.ts'
import { removedPieces, repertoire } from '../../src/store/repertoire.ts'
import { asDone, asResult, caught, codeOf, StoreError, trouble, whyNot } from '../../src/store/trouble.ts'
import { allEvents } from './all-events.ts'
import { names, newHome, overture, sources } from './scene.ts'
import { opening, verdict } from './visit.ts'

const coded = (code: string): Error => Object.assign(new Error(`${code}: as the system says it`), { code })

/** Makes a call of the system fail, as a disk would. */
const failing = (
  call: 'open' | 'access' | 'link' | 'readdir' | 'rename' | 'writeFile',
  code: string,
): void => {
  vi.spyOn(promises, call).mockRejectedValue(coded(code))
  syncBuiltinESMExports()
}
const works = (): void => {
  vi.restoreAllMocks()
  syncBuiltinESMExports()
}
const platform = process.platform
const on = (name: NodeJS.Platform): void => {
  Object.defineProperty(process, 'platform', { value: name })
}
afterEach(() => {
  works()
  on(platform)
})

describe('why something cannot be read or written', () => {
  // Codes of the POSIX standard, errno.h; EFTYPE and EFBIG are also said by this program itself.
  test.each([
    ['ENOSPC', 'the disk that holds /weir is full; make room on it and try again'],
    ['EDQUOT', 'your share of the disk that holds /weir is used up; make room and try again'],
    ['EACCES', '/weir is closed to you; change its permissions or name another folder with --home'],
    ['EPERM', '/weir is closed to you; change its permissions or name another folder with --home'],
    ['EROFS', '/weir is on a disk that is read-only; name another folder with --home'],
    ['ENOENT', '/weir is gone; bring it back (is a disk unplugged?) or name another folder with --home'],
    ['ESTALE', '/weir is gone; bring it back (is a disk unplugged?) or name another folder with --home'],
    ['ENOTDIR', 'a part of /weir is a file, not a folder; name another folder with --home'],
    ['EEXIST', 'a part of /weir is a file, not a folder; name another folder with --home'],
    ['EISDIR', '/weir is a folder, not a file; move it away and try again'],
    ['EFTYPE', '/weir is a pipe or a device, not a file; move it away and try again'],
    ['EFBIG', '/weir is far too large to be one of ours; move it away and try again'],
    ['ELOOP', '/weir is a link that leads back to itself; remove it and try again'],
    ['EIO', 'the disk that holds /weir reported an error (EIO)'],
  ])('%s is said in one sentence', (code, why) => {
    expect(whyNot('/weir', coded(code))).toBe(why)
    const said = trouble("Can't store the note", '/weir', coded(code))
    expect(said).toBeInstanceOf(StoreError)
    expect((said as Error).message).toBe(`Can't store the note: ${why}.`)
    expect((said as Error).cause).toMatchObject({ code })
  })

  test('what did not come from the system is a fault of ours and stays one', () => {
    for (const fault of [
      new Error('E'),
      coded('ERR_INVALID_ARG_TYPE'),
      coded('XENOSPC'),
      'ENOSPC',
      null,
      { code: 'ENOSPC' },
    ]) {
      expect(whyNot('/weir', fault)).toBeNull()
      expect(trouble('Nothing', '/weir', fault)).toBe(fault)
    }
    expect(codeOf(Object.assign(new Error('x'), { code: 7 }))).toBe('')
    expect(whyNot('a\u001b[2Jb', coded('EIO'))).toContain('a [2Jb')
  })

  test('as a result it is what a screen can show; a fault is thrown on', async () => {
    expect(asResult({ ok: true, value: 7 })).toEqual(ok(7))
    expect(asDone(ok(7))).toEqual({ ok: true, value: 7 })
    expect(asDone(asResult({ ok: false, message: 'The disk is full.' }))).toEqual({
      ok: false,
      message: 'The disk is full.',
    })
    expect(asResult({ ok: false, message: 'No.' })).toMatchObject({ ok: false })
    expect(await caught(async () => ok(7))).toEqual(ok(7))
    const said = await caught(async () => {
      throw new StoreError('The disk is full.')
    })
    expect(JSON.stringify(said)).toContain('The disk is full.')
    await expect(
      caught(async () => {
        throw new TypeError('ours')
      }),
    ).rejects.toThrow(TypeError)
  })
})

describe('a file that is replaced', () => {
  test('is for its owner only, and no other file is left', async () => {
    const { data } = newHome()
    await ensureFolder(data, 'Nothing')
    await writeDurably(join(data, 'a'), 'first')
    await writeDurably(join(data, 'a'), 'second')
    expect(readdirSync(data)).toEqual(['a'])
    expect(readFileSync(join(data, 'a'), 'utf8')).toBe('second')
    expect(FILE_MODE).toBe(0o600)
  })

  test.each(['writeFile', 'rename'] as const)(
    'stays as it was where %s fails, and no other file is left',
    async call => {
      const { data } = newHome()
      await ensureFolder(data, 'Nothing')
      await writeDurably(join(data, 'a'), 'first')
      failing(call, 'EIO')
      await expect(writeDurably(join(data, 'a'), 'second')).rejects.toMatchObject({ code: 'EIO' })
      works()
      expect(readdirSync(data)).toEqual(['a'])
      expect(readFileSync(join(data, 'a'), 'utf8')).toBe('first')
    },
  )

  // Some network disks answer that they cannot put a folder on disk; others fail, and that is no storing.
  test('on a disk that knows no such call the folder is not put on disk; any other error is told', async () => {
    const { data } = newHome()
    await ensureFolder(data, 'Nothing')
    const real = promises.open
    let closed = 0
    const answering = (code: string) => {
      vi.spyOn(promises, 'open').mockImplementation(async (...args) => {
        const handle = await real(...args)
        return Object.assign(Object.create(handle) as FileHandle, {
          sync: () => Promise.reject(coded(code)),
          close: () => {
            closed++
            return handle.close()
          },
        })
      })
      syncBuiltinESMExports()
    }
    for (const code of ['EINVAL', 'ENOTSUP', 'EOPNOTSUPP']) {
      answering(code)
      await syncFolder(data)
    }
    answering('EIO')
    await expect(syncFolder(data)).rejects.toMatchObject({ code: 'EIO' })
    expect(closed).toBe(4)
  })

  test('on Windows, which has no such call, it is not asked', async () => {
    on('win32')
    await syncFolder('/no folder at all')
    on('linux')
    await expect(syncFolder('/no folder at all')).rejects.toMatchObject({ code: 'ENOENT' })
  })
})

describe('a folder', () => {
  test('that cannot be written is refused, also where it is there', async () => {
    const { data } = newHome()
    await ensureFolder(data, 'Nothing can be stored')
    failing('access', 'EACCES')
    await expect(ensureFolder(data, 'Nothing can be stored')).rejects.toThrow(
      `Nothing can be stored: ${data} is closed to you; change its permissions or name another folder with --home.`,
    )
    works()
    await ensureFolder(data, 'Nothing can be stored')
  })

  test('that is a file, or a link into nothing, is refused', async () => {
    const { data } = newHome()
    await ensureFolder(data, 'Nothing')
    writeFileSync(join(data, 'file'), '')
    await expect(ensureFolder(join(data, 'file'), 'Nothing')).rejects.toThrow(/a part of \S+ is a file/)
    symlinkSync(join(data, 'nowhere'), join(data, 'link'))
    await expect(ensureFolder(join(data, 'link'), 'Nothing')).rejects.toThrow(/is gone; bring it back/)
    symlinkSync(data, join(data, 'itself'))
    await ensureFolder(join(data, 'itself', 'more'), 'Nothing')
    expect(existsSync(join(data, 'more'))).toBe(true)
  })

  test('is made by many at once', async () => {
    const { data } = newHome()
    await Promise.all(Array.from({ length: 8 }, () => ensureFolder(join(data, 'a', 'b'), 'Nothing')))
    expect(readdirSync(join(data, 'a'))).toEqual(['b'])
  })
})

describe('a file is read', () => {
  test('up to its limit and no further, and only where it is there', async () => {
    const { data } = newHome()
    await ensureFolder(data, 'Nothing')
    const path = join(data, 'a')
    writeFileSync(path, 'äbc')
    expect(await readText(path, 4)).toBe('äbc')
    await expect(readText(path, 3)).rejects.toMatchObject({ code: 'EFBIG' })
    expect(await readIfThere(path)).toBe('äbc')
    expect(await readIfThere(join(data, 'b'))).toBeNull()
    await expect(readIfThere(data)).rejects.toMatchObject({ code: 'EISDIR' })
    await expect(readIfThere(join(path, 'c'))).rejects.toMatchObject({ code: 'ENOTDIR' })
    const { handle, size } = await openFile(path)
    await handle.close()
    expect([size, MOST_BYTES]).toEqual([4, 100_000_000])
  })

  test('a socket is no file', async () => {
    const { data } = newHome()
    await ensureFolder(data, 'Nothing')
    const path = join(data, 's')
    const server = await listenAt(path)
    await expect(readText(path)).rejects.toMatchObject({ code: 'EFTYPE' })
    await new Promise(resolve => server?.close(resolve))
  })
})

describe('a folder that cannot be read is told, not taken for an empty one', () => {
  test.each<[string, (home: ReturnType<typeof newHome>) => Promise<unknown>, string]>([
    ['the journal', home => logFiles(home, JOURNAL), "Can't read the practice journal"],
    ['the pieces', home => repertoire(home).list(), "Can't read your pieces"],
    ['the presets', home => readPresets(home), "Can't read your presets"],
  ])('%s', async (_, read, cannot) => {
    const home = newHome()
    expect(JSON.stringify(await read(home))).not.toContain('Error')
    failing('readdir', 'EACCES')
    await expect(read(home)).rejects.toThrow(new RegExp(`^${cannot}: \\S+ is closed to you; .*\\.$`))
    failing('readdir', 'ENOENT')
    await read(home)
  })

  test('the removed pieces are missed by nobody', async () => {
    const home = newHome()
    const all = repertoire(home)
    await all.save(overture, null)
    await all.remove(overture)
    const removed = join(home.data, 'pieces', 'removed')
    writeFileSync(join(removed, 'torn.json'), '{')
    writeFileSync(
      join(removed, 'weir.txt'),
      readFileSync(join(removed, readdirSync(removed).find(n => n.startsWith('weir-')) ?? '')),
    )
    mkdirSync(join(removed, 'folder.json'))
    expect((await removedPieces(home)).map(p => p.id)).toEqual([overture.id])
    failing('readdir', 'EACCES')
    expect(await removedPieces(home)).toEqual([])
  })
})

describe('what cannot be written is told in one sentence', () => {
  test('the plan of a day, a preset, a piece', async () => {
    const home = newHome()
    const day = {
      date: '2031-03-12',
      minutes: 45,
      order: [],
      skipped: [],
      over: [],
      asked: [],
      wanted: [],
      choice: null,
    }
    await writeDay(home, day)
    await storePreset(home, 'evening', '{}', true)
    await repertoire(home).save(overture, null)
    failing('rename', 'ENOSPC')
    const full = /the disk that holds \S+ is full; make room on it and try again\.$/
    await expect(writeDay(home, { ...day, minutes: 30 })).rejects.toThrow(full)
    await expect(writeDay(home, { ...day, minutes: 30 })).rejects.toThrow(/^Can't keep the plan of the day: /)
    await expect(storePreset(home, 'evening', '{}', true)).rejects.toThrow(/^Can't store the preset: /)
    await expect(repertoire(home).save({ ...overture, id: 'b1b2c3d4' }, null)).rejects.toThrow(
      /^Can't write your pieces: /,
    )
    works()
    expect(await readDay(home)).toEqual(day)
    // the store goes on after it
    expect((await repertoire(home).list()).pieces).toHaveLength(1)
  })

  test('the name of the machine: where no link can be made, a rename does; of two starts the first one counts', async () => {
    const home = newHome()
    failing('link', 'EPERM')
    expect(await machineId(home, names('desk'))).toBe('desk0001')
    works()
    expect(readdirSync(home.config)).toEqual(['machine'])
    const late = newHome()
    vi.spyOn(promises, 'link').mockImplementation(async () => {
      writeFileSync(join(late.config, 'machine'), 'door0001\n')
      throw coded('EEXIST')
    })
    syncBuiltinESMExports()
    expect(await machineId(late, names('desk'))).toBe('door0001')
    works()
    expect(readdirSync(late.config)).toEqual(['machine'])
  })

  test('the name of the machine that does not stay on the disk is told', async () => {
    const home = newHome()
    vi.spyOn(promises, 'link').mockImplementation(async () => {})
    syncBuiltinESMExports()
    await expect(machineId(home, names('desk'))).rejects.toThrow(
      `Can't store the name of this machine: ${join(home.config, 'machine')} does not hold what was written.`,
    )
  })
})

describe('a disk that takes a record in parts', () => {
  let takes: number[] = []
  let writes = 0
  let journal: Journal
  let home: ReturnType<typeof newHome>
  beforeEach(async () => {
    home = newHome()
    journal = await openJournal(home, sources('desk'))
    await journal.append([opening()])
    writes = 0
    const real = promises.open
    vi.spyOn(promises, 'open').mockImplementation(async (...args) => {
      const handle = await real(...args)
      return Object.assign(Object.create(handle) as FileHandle, {
        write: (bytes: Buffer) => {
          writes++
          return handle.write(bytes.subarray(0, takes.shift() ?? bytes.length))
        },
        datasync: () => handle.datasync(),
        sync: () => handle.sync(),
        close: () => handle.close(),
      })
    })
    syncBuiltinESMExports()
  })

  test('is asked three times', async () => {
    takes = [5, 5]
    const [kept] = await journal.append([verdict(1)])
    expect(writes).toBe(3)
    expect((await allEvents(home)).visits[0]?.at(-1)).toEqual(kept)
    takes = [5, 5, 5]
    await expect(journal.append([verdict(2)])).rejects.toThrow(
      /^Can't write the practice journal: .* is full/,
    )
    expect(writes).toBe(6)
  })

  test('and leaves only the last newline out: the record is whole, and is not written again', async () => {
    const path = join(home.data, 'lines')
    takes = [6]
    const through: number[] = []
    await appendLines(path, ['{"a":1}'.slice(0, 5)], () => through.push(writes))
    expect([readFileSync(path, 'utf8'), writes, through]).toEqual(['\n{"a":', 1, [1]])
    takes = [5]
    await appendLines(path, ['{"b":'])
    expect(readFileSync(path, 'utf8')).toBe('\n{"a":\n{"b"\n{"b":\n')
    // of three the first two were whole
    takes = [2 * 4 + 1]
    writes = 0
    await appendLines(path, ['aa', 'bb', 'cc'])
    expect(readFileSync(path, 'utf8').endsWith('\naa\n\nbb\n\n\ncc\n')).toBe(true)
    expect(writes).toBe(2)
  })
})

describe('lines that did not count', () => {
  const at = (line: number) => ({ file: 'march.jsonl', line })
  test.each([
    [[], 0, []],
    [[at(4)], 0, ['The journal has a damaged place that was skipped: march.jsonl, line 4.']],
    [
      [at(0)],
      0,
      ["The journal has a damaged place that was skipped: march.jsonl, which can't be read as a file."],
    ],
    [
      [at(4), at(9)],
      0,
      ['The journal has 2 damaged places that were skipped; the first: march.jsonl, line 4.'],
    ],
    [[], 1, ['1 line of the journal came from a newer Gradino and did not count here; nothing is lost.']],
    [[], 2, ['2 lines of the journal came from a newer Gradino and did not count here; nothing is lost.']],
  ])('%j and %d newer ones', (damaged, unknown, said) => {
    expect(skippedLines('journal', { damaged, unknown })).toEqual(said)
    expect(skippedLines('notes', { damaged, unknown })).toEqual(
      said.map(s => s.replace('journal has', 'notes have').replace('journal', 'notes')),
    )
  })

  test('and whose visit is lost', () => {
    const read = { damaged: [], unknown: 0 }
    expect(journalNotes({ ...read, unopened: 0 })).toEqual([])
    expect(journalNotes({ ...read, unopened: 1 })).toEqual([
      '1 line of the journal did not count: the opening of their visit is lost.',
    ])
  })
})

describe('the practice lock', () => {
  /** A system that answers so when a name is listened at. */
  const answering = (code: string) => {
    const real = net.createServer
    vi.spyOn(net, 'createServer').mockImplementation(((...args: Parameters<typeof real>) => {
      const server = real(...args)
      server.listen = (() => {
        queueMicrotask(() => server.emit('error', coded(code)))
        return server
      }) as typeof server.listen
      return server
    }) as typeof real)
    syncBuiltinESMExports()
  }

  test('is held where the system says that the name is in use; on Windows also where it is another user’s', async () => {
    answering('EADDRINUSE')
    expect(await listenAt('\0gradino-test')).toBeNull()
    expect(await listenAt('\\\\.\\pipe\\gradino-test')).toBeNull()
    works()
    answering('EACCES')
    expect(await listenAt('\\\\.\\pipe\\gradino-test')).toBeNull()
    await expect(listenAt('\0gradino-test')).rejects.toMatchObject({ code: 'EACCES' })
    await expect(acquirePractice(newHome())).rejects.toThrow(/^Can't open practice: \S+ is closed to you/)
  })

  test('lets no process wait for it, and answers whoever knocks', async () => {
    const server = await listenAt('\0gradino-test-knock')
    const ended = await new Promise(resolve => {
      const socket = net.connect('\0gradino-test-knock')
      socket.once('close', () => resolve('closed'))
    })
    expect(ended).toBe('closed')
    await new Promise(resolve => server?.close(resolve))
  })
})
