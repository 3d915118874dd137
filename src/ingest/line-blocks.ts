/** The bytes of a file in blocks of whole lines, each in a buffer of its own. */

const BLOCK_BYTES = 1 << 21;
/** Where so many bytes have no line end among them, they come as they are. */
const MOST_BYTES = 1 << 23;
const LF = 10;
const CR = 13;

export interface LineBlock {
  readonly bytes: Uint8Array;
  /** No further byte follows. */
  readonly isLast: boolean;
  /** False where no line end was found in all too many bytes: the block ends within a line. */
  readonly isWhole: boolean;
}

/** Place after the last line end; 0 where there is none. A CR at the very end may be half of one. */
export function endOfLines(bytes: Uint8Array): number {
  const lf = bytes.lastIndexOf(LF);
  return lf >= 0 ? lf + 1 : bytes.subarray(0, -1).lastIndexOf(CR) + 1;
}

/** Blocks of what begins with some bytes and goes on with `next` (null: no more), until one isn't whole. */
export async function* lineBlocks(
  first: Uint8Array,
  next: () => Promise<Uint8Array | null>,
): AsyncGenerator<LineBlock> {
  let parts = [first];
  let length = first.length;
  let wanted = 0;
  for (let chunk = await next(); chunk !== null; chunk = await next()) {
    if (length > wanted) {
      const bytes = joined(parts, length);
      const end = endOfLines(bytes);
      // What is left begins the next block, in a buffer of its own: this one is given away.
      const rest = bytes.slice(end);
      if (end > 0) yield { bytes: bytes.subarray(0, end), isLast: false, isWhole: true };
      else if (length > MOST_BYTES) {
        yield { bytes: joined([bytes, chunk], length + chunk.length), isLast: false, isWhole: false };
        return;
      }
      parts = [rest];
      length -= end;
      wanted = end > 0 ? BLOCK_BYTES : length + BLOCK_BYTES;
    }
    parts.push(chunk);
    length += chunk.length;
  }
  const bytes = joined(parts, length);
  if (length > 0) yield { bytes, isLast: true, isWhole: true };
}

function joined(parts: readonly Uint8Array[], length: number): Uint8Array {
  const bytes = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}
