import { BlockList, isIP } from 'node:net';
import type { Context } from 'hono';

/** Addresses and networks (`10.0.0.0/8`) of proxies. @throws Error naming one that is neither */
export function readProxies(list: readonly string[]): (address: string) => boolean {
  const known = new BlockList();
  for (const one of list) {
    const [address = '', prefix] = one.split('/');
    const family = isIP(address) === 6 ? 'ipv6' : 'ipv4';
    const bits = prefix === undefined ? undefined : Number(prefix);
    const most = family === 'ipv6' ? 128 : 32;
    if (isIP(address) === 0 || (bits !== undefined && !(Number.isInteger(bits) && bits >= 0 && bits <= most)))
      throw new Error(`“${one.slice(0, 60)}” is neither an address nor a network such as 10.0.0.0/8`);
    if (bits === undefined) known.addAddress(address, family);
    else known.addSubnet(address, bits, family);
  }
  return (address) => {
    const family = isIP(address);
    return family !== 0 && known.check(address, family === 6 ? 'ipv6' : 'ipv4');
  };
}

/** Whether a text is an address or a network. */
export function isProxyAddress(text: string): boolean {
  try {
    readProxies([text]);
    return true;
  } catch {
    return false;
  }
}

/** IPv4 written as IPv6 is the same address. */
const plain = (address: string) => address.replace(/^::ffff:(?=\d+\.)/i, '');

/**
 * The address a request came from. What a proxy says of it counts only when the proxy is one of ours: then the last
 * address in X-Forwarded-For that is none of ours.
 * @returns an empty text when the request came through no connection
 */
export function clientAddress(c: Context, isProxy: (address: string) => boolean): string {
  const env = c.env as
    | { readonly incoming?: { readonly socket?: { readonly remoteAddress?: string } } }
    | undefined;
  let address = plain(env?.incoming?.socket?.remoteAddress ?? '');
  const hops = (c.req.header('x-forwarded-for') ?? '').split(',').map((hop) => plain(hop.trim()));
  while (isProxy(address)) {
    const hop = hops.pop();
    if (hop === undefined || isIP(hop) === 0) break;
    address = hop;
  }
  return address;
}
