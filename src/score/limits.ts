/** What a score may hold at most. Real ones stay far below; a hostile file must not fill the memory. */
export const MAX_XML_BYTES = 30_000_000
export const MAX_ARCHIVE_BYTES = 10_000_000
export const MAX_ARCHIVE_FILES = 1000
export const MAX_DEPTH = 64
export const MAX_TAGS = 3_000_000
export const MAX_ATTRIBUTES = 64
export const MAX_PARTS = 200
export const MAX_MEASURES = 20_000
/** Whole notes in one measure, as many as a meter can count: an unmeasured cadenza fits. */
export const MAX_MEASURE_LENGTH = 64
/** Whole notes from the start of a part, and the finest fraction of one at which anything may stand. */
export const MAX_LENGTH = 200_000
export const FINEST = 200_000
/** Measures of a performance with all repeats and jumps. */
export const MAX_PERFORMED = 50_000
export const MAX_TEXT = 200
export const MAX_WARNINGS = 50
