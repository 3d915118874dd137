/**
 * Powers with the same last bit on every release of Node: V8's own `**` and Math.pow changed between Node 20 and 24, while
 * its exp and log did not. Use this wherever the exponent isn't the literal 2.
 */

const LARGEST_MULTIPLIED = 64;

/**
 * base to the power of exponent; a whole exponent up to 64 by multiplication, any other as exp(exponent · log base), right
 * to about |exponent · log base| units in the last place.
 *
 * @param base  at least 0 where the exponent isn't whole
 */
export function power(base: number, exponent: number): number {
  if (Number.isInteger(exponent) && Math.abs(exponent) <= LARGEST_MULTIPLIED) {
    const product = wholePower(base, Math.abs(exponent));
    return exponent < 0 ? 1 / product : product;
  }
  if (base === 0) return exponent > 0 ? 0 : Number.POSITIVE_INFINITY;
  return Math.exp(exponent * Math.log(base));
}

function wholePower(base: number, exponent: number): number {
  let result = 1;
  let square = base;
  for (let left = exponent; left > 0; left = Math.floor(left / 2)) {
    if (left % 2 === 1) result *= square;
    square *= square;
  }
  return result;
}
