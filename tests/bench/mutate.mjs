import { parseAst } from 'vitest/node'

/** Small wrong changes of a source file, found in its syntax tree: places with what stands there instead. */

const BOUNDARY = { '<': '<=', '<=': '<', '>': '>=', '>=': '>' }
const FLIPPED = { '<': '>=', '<=': '>', '>': '<=', '>=': '<', '===': '!==', '!==': '===' }
const ARITHMETIC = { '+': '-', '-': '+', '*': '/', '/': '*', '%': '*', '**': '*' }
const LOGICAL = { '&&': '||', '||': '&&' }
const ASSIGNED = { '+=': '-=', '-=': '+=', '*=': '/=', '/=': '*=', '&&=': '=', '||=': '=', '??=': '=' }
const STEP = { '++': '--', '--': '++' }

const isText = node =>
  node.type === 'TemplateLiteral' ||
  (node.type === 'Literal' && typeof node.value === 'string') ||
  (node.type === 'BinaryExpression' && (isText(node.left) || isText(node.right)))

/** What is wrong for a value that is handed back: nothing, or for a yes the other answer as well. */
const BROKEN = ['undefined']
const answers = node =>
  node.type === 'UnaryExpression' && node.operator === '!'
    ? ['true', 'false']
    : node.type === 'BinaryExpression' && FLIPPED[node.operator]
      ? ['true', 'false']
      : node.type === 'Identifier' && node.name === 'undefined'
        ? []
        : BROKEN

/** All mutants of one file: `start` and `end` in its text, and `now`, which stands there instead. */
export const mutantsOf = (text, path) => {
  const out = []
  const put = (kind, node, now) => out.push({ kind, start: node.start, end: node.end, now })
  const operator = (kind, node, now) => {
    const between = text.slice(node.left.end, node.right.start)
    const at = between.indexOf(node.operator)
    // An operator inside a comment between its two sides would be found first: none is.
    const start = node.left.end + at
    if (now && at >= 0) out.push({ kind, start, end: start + node.operator.length, now })
  }
  const condition = node => {
    for (const now of ['true', 'false'])
      if (text.slice(node.start, node.end) !== now) put('condition', node, now)
  }
  const on = {
    BinaryExpression(node) {
      operator('boundary', node, BOUNDARY[node.operator])
      operator('comparison', node, FLIPPED[node.operator])
      if (!isText(node)) operator('arithmetic', node, ARITHMETIC[node.operator])
    },
    LogicalExpression(node, parent) {
      // A chain of ?? takes no && without parentheses.
      const inChain = [node.left, parent].some(x => x?.type === 'LogicalExpression')
      const [a, b] = [node.left, node.right].map(x => text.slice(x.start, x.end))
      if (node.operator === '??' && inChain) put('logic', node, `((${a}) && (${b}))`)
      else operator('logic', node, LOGICAL[node.operator])
    },
    AssignmentExpression: node => operator('arithmetic', node, ASSIGNED[node.operator]),
    UpdateExpression(node) {
      const now = STEP[node.operator]
      const [a, b] = [text.slice(node.argument.start, node.argument.end), node.prefix]
      put('arithmetic', node, b ? `${now}${a}` : `${a}${now}`)
    },
    UnaryExpression(node) {
      const inner = text.slice(node.argument.start, node.argument.end)
      if (node.operator === '!') put('logic', node, inner)
      if (node.operator === '-' && node.argument.type !== 'Literal') put('arithmetic', node, inner)
    },
    IfStatement: node => condition(node.test),
    ConditionalExpression: node => condition(node.test),
    WhileStatement: node => put('condition', node.test, 'false'),
    ExpressionStatement(node) {
      if (!node.directive && node.expression.type !== 'YieldExpression') put('removed', node, ';')
    },
    ContinueStatement: node => put('removed', node, ';'),
    Literal(node) {
      if (typeof node.value === 'boolean') put('constant', node, String(!node.value))
      if (typeof node.value !== 'number') return
      put('constant', node, `(${node.raw} + 1)`)
      put('constant', node, `(${node.raw} - 1)`)
    },
    ReturnStatement(node) {
      if (node.argument) for (const now of answers(node.argument)) put('returned', node.argument, now)
    },
    ArrowFunctionExpression(node) {
      if (node.body.type !== 'BlockStatement')
        for (const now of answers(node.body)) put('returned', node.body, now)
    },
  }
  const walk = (node, parent) => {
    if (!node || typeof node.type !== 'string') return
    // Of types only what they are said of can go wrong.
    if (node.type.startsWith('TS') && !node.expression) return
    if (node.type === 'ImportDeclaration' || node.type === 'ExportAllDeclaration') return
    // A number as a key names something: `{ 4: ... }`.
    const isKey = (parent?.type === 'Property' || parent?.type === 'MemberExpression') && !parent.computed
    if (!(node.type === 'Literal' && isKey && (parent.key === node || parent.property === node)))
      on[node.type]?.(node, parent)
    for (const [name, child] of Object.entries(node)) {
      if (name === 'typeAnnotation' || name === 'returnType' || name === 'typeParameters') continue
      if (name === 'typeArguments' || name === 'directive') continue
      for (const c of Array.isArray(child) ? child : [child]) if (c && typeof c === 'object') walk(c, node)
    }
  }
  walk(parseAst(text, { lang: path.endsWith('x') ? 'tsx' : 'ts' }), null)
  return out.map(m => ({ ...m, path, ...lines(text, m) }))
}

const parsed = new Map()
/** All functions of a file that have a body, the inner ones after those around them; `name` is where each stands. */
export const functionsOf = (text, path) => {
  const known = parsed.get(path)
  if (known?.text === text) return known.all
  const all = []
  const walk = node => {
    if (!node || typeof node.type !== 'string') return
    if (/^(Arrow)?Function/.test(node.type) && node.body)
      all.push({
        name: `${path} ${node.start}`,
        start: node.body.start,
        end: node.body.end,
        block: node.body.type === 'BlockStatement',
      })
    for (const child of Object.values(node))
      for (const c of Array.isArray(child) ? child : [child]) if (c && typeof c === 'object') walk(c)
  }
  walk(parseAst(text, { lang: path.endsWith('x') ? 'tsx' : 'ts' }))
  parsed.set(path, { text, all })
  return all
}

/** The same file, in which every function tells that it was entered. */
export const entered = (text, all) => {
  const put = all.flatMap(({ name, start, end, block }) => {
    const told = `globalThis.gradinoEntered?.(${JSON.stringify(name)})`
    return block
      ? [{ at: start + 1, say: `${told};`, inner: 0 }]
      : [
          { at: start, say: `(${told},`, inner: start },
          { at: end, say: ')', inner: -start },
        ]
  })
  let [out, last] = ['', 0]
  // Where several end at one place the inner one is closed first.
  for (const { at, say } of put.sort((a, b) => a.at - b.at || a.inner - b.inner)) {
    out += text.slice(last, at) + say
    last = at
  }
  return out + text.slice(last)
}

/** The lines that a mutant touches, before and after: by them it is known again while the rest of the file moves. */
const lines = (text, { start, end, now }) => {
  const from = text.lastIndexOf('\n', start - 1) + 1
  const to = text.indexOf('\n', end) < 0 ? text.length : text.indexOf('\n', end)
  const plain = s => s.trim().replace(/\s+/g, ' ')
  return {
    line: text.slice(0, start).split('\n').length,
    was: plain(text.slice(from, to)),
    is: plain(text.slice(from, start) + now + text.slice(end, to)),
  }
}

/** The same text with the mutant in it; its loops tell each turn, so that one without an end is noticed at once. */
export const mutated = (text, { start, end, now, path }) => {
  const wrong = text.slice(0, start) + now + text.slice(end)
  const put = []
  const walk = node => {
    if (!node || typeof node.type !== 'string') return
    if (/^(For|While|DoWhile)/.test(node.type) && node.body?.type !== 'EmptyStatement')
      put.push({ at: node.body.start, say: '{ globalThis.gradinoTurn?.();' }, { at: node.body.end, say: '}' })
    for (const child of Object.values(node))
      for (const c of Array.isArray(child) ? child : [child]) if (c && typeof c === 'object') walk(c)
  }
  walk(parseAst(wrong, { lang: path.endsWith('x') ? 'tsx' : 'ts' }))
  return put.sort((a, b) => b.at - a.at).reduce((s, { at, say }) => s.slice(0, at) + say + s.slice(at), wrong)
}

/** A generator of numbers below 1, the same for the same seed (mulberry32, public domain). */
const random = seed => {
  let a = seed >>> 0
  return () => {
    a = (a + 0x6d2b79f5) | 0
    let t = Math.imul(a ^ (a >>> 15), a | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32
  }
}

/** So many of all, each as likely as any other, in the order of the files. */
export const sampleOf = (all, count, seed) => {
  const next = random(seed)
  return all
    .map(m => [next(), m])
    .sort(([a], [b]) => a - b)
    .slice(0, count)
    .map(([, m]) => m)
    .sort((a, b) => (a.path === b.path ? a.start - b.start : a.path < b.path ? -1 : 1))
}
