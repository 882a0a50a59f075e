import { lookup } from 'node:dns';
import { BlockList, isIP, type LookupFunction } from 'node:net';
import { once } from '../../../shared/once.ts';
import { ChannelError } from '../errors.ts';

/** Blocks of addresses that are no host of the internet. */
type Blocks = readonly (readonly [address: string, prefix: number])[];

/**
 * Link-local: RFC 3927 and RFC 4291, also as NAT64 (RFC 6052) and 6to4 (RFC 3056) have it. There cloud machines answer
 * with their credentials, on IPv6 at the address of the EC2 user guide, "Retrieve instance metadata"; two more such
 * addresses, of other clouds, are from memory, unverified.
 */
const LINK_LOCAL: Blocks = [
  ['169.254.0.0', 16],
  ['fe80::', 10],
  ['64:ff9b::a9fe:0', 112],
  ['2002:a9fe::', 32],
  ['fd00:ec2::254', 128],
  ['192.0.0.192', 32],
  ['100.100.100.200', 32],
];

/** The machine itself and private networks: IANA special-purpose registries, RFC 1122, 1918, 4193, 4291 and 6598. */
const PRIVATE_V4: Blocks = [
  ['0.0.0.0', 8],
  ['10.0.0.0', 8],
  ['100.64.0.0', 10],
  ['127.0.0.0', 8],
  ['172.16.0.0', 12],
  ['192.0.0.0', 24],
  ['192.168.0.0', 16],
  // Benchmarks (RFC 2544), multicast (RFC 5771), and what is reserved (RFC 1112), the broadcast with it.
  ['198.18.0.0', 15],
  ['224.0.0.0', 4],
  ['240.0.0.0', 4],
];

const PRIVATE: Blocks = [
  ...PRIVATE_V4,
  // The same behind NAT64; all of a NAT64 of one's own (RFC 8215).
  ...PRIVATE_V4.map(([address, prefix]) => [`64:ff9b::${address}`, 96 + prefix] as const),
  ['64:ff9b:1::', 48],
  // Unspecified, loopback, and the old forms of IPv4 within IPv6: RFC 4291, section 2.5.5.1.
  ['::', 96],
  // Tunnels that hold an IPv4 address: Teredo (RFC 4380) and 6to4, which is given up (RFC 7526).
  ['2001::', 32],
  ['2002::', 16],
  ['fc00::', 7],
  // Site-local, given up (RFC 3879), and multicast.
  ['fec0::', 10],
  ['ff00::', 8],
];

/** Refuses addresses that a company's webhook must not make the service call. */
export interface AddressGuard {
  /** @throws ChannelError `address-not-allowed` if the host is itself an address that is refused */
  check(host: string): void;
  /** Finds the addresses of a name; fails as `check` does if one of them is refused. */
  readonly lookup: LookupFunction;
}

/**
 * Guarded is the address that is connected to, so a name that changes its mind after a check gains nothing. Link-local
 * ones are always refused. Not guarded: what a host on the internet does with the request, services of one's own at
 * public addresses, and other machines of a private network where those are allowed; keep it from them by a proxy or
 * a network of its own.
 *
 * @param privateAddresses allow them only where whoever sets the webhooks up may call anything there anyway
 */
export function addressGuard(privateAddresses: 'allowed' | 'refused'): AddressGuard {
  // With the first webhook: most processes call none.
  const refused = once(() => {
    const list = new BlockList();
    for (const [address, prefix] of privateAddresses === 'refused'
      ? [...LINK_LOCAL, ...PRIVATE]
      : LINK_LOCAL) {
      list.addSubnet(address, prefix, familyOf(address));
    }
    return list;
  });
  const check = (host: string) => {
    const address = host.startsWith('[') ? host.slice(1, -1) : host;
    if (isIP(address) === 0 || !refused().check(address, familyOf(address))) return;
    throw new ChannelError('address-not-allowed', `the webhook's address ${address} is not one to call`);
  };
  return {
    check,
    lookup(hostname, options, callback) {
      lookup(hostname, { ...options, all: true }, (error, addresses) => {
        const [first] = addresses ?? [];
        if (error || !first) return callback(error ?? new Error(`${hostname} has no address`), '', 0);
        try {
          for (const { address } of addresses) check(address);
        } catch (refusal) {
          return callback(refusal instanceof Error ? refusal : new Error(String(refusal)), '', 0);
        }
        if (options.all) callback(null, addresses);
        else callback(null, first.address, first.family);
      });
    },
  };
}

function familyOf(address: string): 'ipv4' | 'ipv6' {
  return isIP(address) === 4 ? 'ipv4' : 'ipv6';
}
