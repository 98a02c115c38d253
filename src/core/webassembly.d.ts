/** The part of the WebAssembly JavaScript interface (W3C) that kernel-memory.ts uses. TypeScript has it only in its DOM library. */
declare namespace WebAssembly {
  class Module {
    constructor(bytes: Uint8Array);
  }
  class Memory {
    constructor(descriptor: { readonly initial: number; readonly maximum: number; readonly shared: true });
    readonly buffer: SharedArrayBuffer;
    grow(pages: number): number;
  }
  class Instance {
    constructor(module: Module, imports: Readonly<Record<string, Readonly<Record<string, Memory>>>>);
    readonly exports: Readonly<Record<string, unknown>>;
  }
  function validate(bytes: Uint8Array): boolean;
}
