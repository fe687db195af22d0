import { importFrom } from '../../src/score/import-score.ts'
import { readScore } from '../../src/score/read-score.ts'

export { sentence } from '../../src/music/result.ts'
export { importFrom, readScore }
