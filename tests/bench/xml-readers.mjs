// npm run bench -- xml-readers [measures] [parts]: how long general readers of XML take for the text of a long score and what
// they need, each in a process of its own with nothing done with what it reads, and how many of the faults in
// tests/score/not-well-formed.ts each refuses by itself. saxes and fast-xml-parser are there; the others after
// npm install --prefix FOLDER saxen htmlparser2 @rgrove/parse-xml txml sax-wasm libxml2-wasm
// GRADINO_XML=FOLDER npm run bench -- xml-readers
import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'

const TIMES = Number(process.env.TIMES ?? 3)
const [, , first = '', ...more] = process.argv
const own = createRequire(import.meta.url)
const others = createRequire(join(process.env.GRADINO_XML ?? '.', 'x.js'))

const nothing = () => {}
const thrown = error => {
  throw error
}

/** By name: how it is made ready; what that gives reads a text, and throws or answers false where it refuses it. */
const READERS = {
  'nothing read': () => nothing,
  saxes: () => {
    const { SaxesParser } = own('saxes')
    return text => {
      const parser = new SaxesParser()
      for (const event of ['opentag', 'closetag', 'text']) parser.on(event, nothing)
      parser.write(text).close()
    }
  },
  'fast-xml-parser': () => {
    const { XMLParser } = own('fast-xml-parser')
    return text => void new XMLParser({ ignoreAttributes: false }).parse(text)
  },
  'fast-xml-parser, its validator': () => {
    const { XMLValidator } = own('fast-xml-parser')
    return text => XMLValidator.validate(text) === true
  },
  saxen: () => {
    const { Parser } = others('saxen')
    return text => {
      const parser = new Parser()
      parser.on('openTag', (_, attributes) => void attributes())
      for (const event of ['closeTag', 'text']) parser.on(event, nothing)
      for (const event of ['error', 'warn']) parser.on(event, thrown)
      parser.parse(text)
    }
  },
  htmlparser2: () => {
    const { Parser } = others('htmlparser2')
    const handler = { onopentag: nothing, onclosetag: nothing, ontext: nothing, onerror: thrown }
    return text => new Parser(handler, { xmlMode: true }).end(text)
  },
  '@rgrove/parse-xml': () => {
    const { parseXml } = others('@rgrove/parse-xml')
    return text => void parseXml(text)
  },
  txml: () => {
    const { parse } = others('txml')
    return text => void parse(text)
  },
  'sax-wasm': async () => {
    const { SAXParser, SaxEventType } = others('sax-wasm')
    const wanted = SaxEventType.OpenTag | SaxEventType.CloseTag | SaxEventType.Text
    const parser = new SAXParser(wanted)
    const path = join(process.env.GRADINO_XML ?? '.', 'node_modules', 'sax-wasm', 'lib', 'sax-wasm.wasm')
    await parser.prepareWasm(readFileSync(path))
    parser.eventHandler = nothing
    return text => {
      const bytes = new TextEncoder().encode(text)
      for (let at = 0; at < bytes.length; at += 65_536) parser.write(bytes.subarray(at, at + 65_536))
      parser.end()
    }
  },
  'libxml2-wasm': async () => {
    const { XmlDocument } = await import(pathToFileURL(others.resolve('libxml2-wasm')))
    return text => XmlDocument.fromString(text).dispose()
  },
}

const refuses = (read, text) => {
  try {
    return read(text) === false
  } catch {
    return true
  }
}

const measured = async (bundle, name, path) => {
  const { NOT_WELL_FORMED } = await import(pathToFileURL(bundle))
  const read = await READERS[name]()
  const text = readFileSync(path, 'utf8')
  const before = process.cpuUsage()
  read(text)
  const { user, system } = process.cpuUsage(before)
  const mb = process.resourceUsage().maxRSS / 1024
  const refused = NOT_WELL_FORMED.filter(([fault]) => refuses(read, fault)).length
  console.log(JSON.stringify({ seconds: (user + system) / 1e6, mb, refused, of: NOT_WELL_FORMED.length }))
}

if (first === 'one') await measured(...more)
else {
  const [measures = 3000, parts = 4] = more.map(Number)
  const folder = mkdtempSync(join(tmpdir(), 'gradino-xml-'))
  try {
    const { build } = await import('esbuild')
    const bundle = join(folder, 'score.mjs')
    const [entry, path] = [new URL('score.ts', import.meta.url).pathname, join(folder, 'long.xml')]
    const esm = { bundle: true, platform: 'node', target: 'node20', format: 'esm' }
    await build({ ...esm, entryPoints: [entry], outfile: bundle, logLevel: 'warning' })
    writeFileSync(path, (await import(pathToFileURL(bundle))).longScore(measures, parts))
    for (const name of Object.keys(READERS)) {
      const runs = Array.from({ length: TIMES }, () => {
        const args = [fileURLToPath(import.meta.url), 'one', bundle, name, path]
        const { stdout } = spawnSync(process.execPath, args, { encoding: 'utf8' })
        return stdout === '' ? null : JSON.parse(stdout)
      }).sort((a, b) => a?.seconds - b?.seconds)
      const run = runs[TIMES >> 1]
      console.log(
        run
          ? `${name.padEnd(32)}${run.seconds.toFixed(2)} s, ${Math.round(run.mb)} MB at most, refuses ${run.refused} of ${run.of}`
          : `${name.padEnd(32)}not installed`,
      )
    }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}
