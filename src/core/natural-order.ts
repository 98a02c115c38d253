/**
 * Order of names as people count: `boat 2.jpg` before `boat 10.jpg`. Runs of digits compare as numbers, all else by code units, so
 * that the order is the same in every language.
 */
export function naturalOrder(a: string, b: string): number {
  const [left, right] = [partsOf(a), partsOf(b)];
  for (let i = 0; i < Math.min(left.length, right.length); i++) {
    const order =
      isNumber(left[i]) && isNumber(right[i]) ? inNumbers(left[i], right[i]) : inCodeUnits(left[i], right[i]);
    if (order !== 0) return order;
  }
  return left.length - right.length || inCodeUnits(a, b);
}

const partsOf = (name: string): readonly string[] => name.match(/[0-9]+|[^0-9]+/g) ?? [];
const isNumber = (part: string): boolean => /^[0-9]/.test(part);
const inCodeUnits = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** Without leading zeros the longer number is the larger, however many digits it has. */
function inNumbers(a: string, b: string): number {
  const [left, right] = [a, b].map((digits) => digits.replace(/^0+/, ""));
  return left.length - right.length || inCodeUnits(left, right);
}
