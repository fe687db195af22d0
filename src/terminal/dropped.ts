/** A path that leads from somewhere and ends like a file, in quotes or not. */
const PATH = /^(['"]?)(?:file:\/\/|~?\/|[a-z]:[\\/]|\\\\).*\.[a-z0-9]{2,8}\1$/i

/**
 * A file that was dropped into the window of a terminal that does not tell a paste: a whole path in one read, which no hand
 * types. Null = anything else.
 */
export const droppedIn = (bytes: Uint8Array): string | null => {
  // Keys come a few bytes at a time; this is asked at each of them.
  if (bytes.length < 6) return null
  const text = new TextDecoder().decode(bytes).trim()
  return PATH.test(text) && !/[\p{Cc}\ufffd]/u.test(text) ? text : null
}
