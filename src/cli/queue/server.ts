/** What a queue server says about itself. */
export interface Server {
  readonly kind: "Redis" | "Valkey";
  readonly version: string;
  /** Whether it forgets keys when its memory is full. */
  readonly mayForget: string | undefined;
}

/** Redis 6.2 has all commands that are used; Valkey began as Redis 7.2 and has had them from its first release. */
const OLDEST = { Redis: [6, 2], Valkey: [7, 2] } as const;

/** @param info what the server answers to `INFO` */
export function serverOf(info: string): Server {
  const fields = new Map(
    info.split(/\r?\n/).map((line) => {
      const [name, ...value] = line.split(":");
      return [name, value.join(":")] as const;
    }),
  );
  const valkey = fields.get("valkey_version");
  const policy = fields.get("maxmemory_policy");
  const isLimited = Number(fields.get("maxmemory") ?? 0) > 0;
  return {
    kind: valkey === undefined ? "Redis" : "Valkey",
    version: valkey ?? fields.get("redis_version") ?? "0",
    mayForget: isLimited && policy !== undefined && policy !== "noeviction" ? policy : undefined,
  };
}

/** The versions to use instead; undefined if this one will do. */
export function versionFault({ kind, version }: Server): string | undefined {
  const [major, minor] = version.split(".").map(Number);
  const [least, leastMinor] = OLDEST[kind];
  const isOld = !(major > least || (major === least && minor >= leastMinor));
  return isOld ? "Redis 6.2 or later, or Valkey 7.2 or later" : undefined;
}

/** What the user should know about a server that can be used, in sentences. */
export function fewerPromisesWords({ mayForget }: Server, address: string): string[] {
  if (mayForget === undefined) return [];
  return [
    `The queue server ${address} drops keys when its memory is full (maxmemory-policy ${mayForget}), jobs among them. A dropped job is put into the queue again, but late. Set maxmemory-policy to noeviction on the server.`,
  ];
}
