import type { Random } from "../../src/core/random.js";
import type { Container } from "./containers.js";

/** Numbers at which programs slip. */
const NUMBERS = [0, 1, 0x7f, 0x80, 0xff, 0x7fff, 0x8000, 0xffff, 0x7fffffff, 0x80000000, 0xffffffff];
/** Words at which readers of text slip. */
const WORDS = [
  "",
  "-1",
  "1e999",
  "NaN",
  "0x10",
  "null",
  "[[[[[[[[",
  '{"__proto__":{"x":1}}',
  '"',
  "'",
  "\0",
  "\ufeff",
  "\ud800",
  "\r",
  "=1+1",
  "../../../etc/passwd",
  "%s%n",
  "&lt;!ENTITY;",
  "<![CDATA[",
  "9".repeat(400),
  "a".repeat(5000),
  "80mm",
  "true",
];

/** Some mutations of a file, one upon another; the joints of its format stay right unless they are what is mutated. */
export function mutate({ parts, join }: Container, random: Random): Uint8Array {
  const mutated = [...parts];
  for (let i = 1 + below(random, 2); i > 0; i--) mutatePart(mutated, random);
  const whole = Buffer.from(join(mutated));
  return random() < 0.15 ? mutateWhole(whole, random) : whole;
}

function mutatePart(parts: Uint8Array[], random: Random): void {
  if (parts.length === 0) return;
  const at = below(random, parts.length);
  const other = below(random, parts.length);
  const ways = [
    () => parts.splice(at, 1),
    () => parts.splice(other, 0, parts[at]),
    () => ([parts[at], parts[other]] = [parts[other], parts[at]]),
    () => parts.splice(at, 1, Buffer.from(WORDS[below(random, WORDS.length)])),
    () => parts.splice(at, 1, parts[at].subarray(0, below(random, parts[at].length + 1))),
    () => parts.splice(at, 1, Buffer.concat(Array<Uint8Array>(1 + below(random, 50)).fill(parts[at]))),
    () => parts.splice(at, 1, withNumber(parts[at], random)),
    () => parts.splice(at, 1, withNumber(parts[at], random)),
    () => parts.splice(at, 1, withNoise(parts[at], random)),
  ];
  ways[below(random, ways.length)]();
}

function mutateWhole(bytes: Buffer, random: Random): Uint8Array {
  const ways = [
    () => bytes.subarray(0, below(random, bytes.length + 1)),
    () => withNumber(bytes, random),
    () => withNoise(bytes, random),
    () => Buffer.concat([bytes, bytes]),
  ];
  return ways[below(random, ways.length)]();
}

/** One of the numbers, in 1, 2 or 4 bytes of either order, somewhere. */
function withNumber(bytes: Uint8Array, random: Random): Uint8Array {
  const copy = Buffer.from(bytes);
  const size = [1, 2, 4][below(random, 3)];
  if (copy.length < size) return copy;
  const at = below(random, copy.length - size + 1);
  const value = NUMBERS[below(random, NUMBERS.length)] % 2 ** (8 * size);
  if (random() < 0.5) copy.writeUIntBE(value, at, size);
  else copy.writeUIntLE(value, at, size);
  return copy;
}

function withNoise(bytes: Uint8Array, random: Random): Uint8Array {
  const copy = Buffer.from(bytes);
  for (let i = below(random, 20); i >= 0 && copy.length > 0; i--) {
    copy[below(random, copy.length)] ^= 1 << below(random, 8);
  }
  return copy;
}

const below = (random: Random, limit: number): number => Math.floor(random() * limit);
