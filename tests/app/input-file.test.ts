import { expect, test } from 'vitest'
import { droppedPath } from '../../src/app/input-file.ts'

// Terminals write a dropped file in one of these ways (common practice, no source); file: RFC 8089.
test.each([
  ["'/home/weir/Weir Street.mxl'", '/home/weir/Weir Street.mxl'],
  ['"/home/weir/Weir Street.mxl" ', '/home/weir/Weir Street.mxl'],
  ['/home/weir/Weir\\ Street\\ \\(flute\\).mxl', '/home/weir/Weir Street (flute).mxl'],
  ['file:///home/weir/Weir%20Street.mxl', '/home/weir/Weir Street.mxl'],
  ['file://localhost/home/weir/a.xml', '/home/weir/a.xml'],
  ['scores/weir.mxl', 'scores/weir.mxl'],
  ['C:\\scores\\weir.mxl', 'C:\\scores\\weir.mxl'],
])('%s', (typed, path) => {
  expect(droppedPath(typed)).toBe(path)
})
