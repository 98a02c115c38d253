/** Terms of a surface of the third order in two directions: for what changes slowly over a card, whose sides are −1 and 1. */
export const cubicTerms = (x: number, y: number): number[] => [
  1,
  x,
  y,
  x * x,
  x * y,
  y * y,
  x ** 3,
  x * x * y,
  x * y * y,
  y ** 3,
];
