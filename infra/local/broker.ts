import { once } from 'node:events';
import { type AddressInfo, createServer, type Socket } from 'node:net';
import { Duplex } from 'node:stream';
import { Aedes, type AuthenticateError, type Client } from 'aedes';
import type { Ports } from '../../functions/ports.ts';
import { MAX_EVENT_BYTES } from '../../shared/quarantine.ts';
import { type MeterPorts, MeterSession, RefusedError } from './meterSession.ts';
import { PacketLimit } from './packetLimit.ts';

/** A packet of somewhat more than the largest event is still taken in, so that it is seen in quarantine. */
const MOST_BYTES_A_PACKET = 4 * MAX_EVENT_BYTES;
const CONNECT_WITHIN_MS = 10_000;
const LONGEST_KEEP_ALIVE_SECONDS = 3_600;
/** MQTT 3.1.1, section 3.2.2.3. */
const BAD_CREDENTIAL = 4;
const UNAVAILABLE = 3;

export interface BrokerPorts extends MeterPorts {
  readonly log: Ports['log'];
}

export interface BrokerOptions extends BrokerPorts {
  readonly host: string;
  /** 0 for any that is free. */
  readonly port: number;
  readonly maxConnections?: number;
}

export interface Broker {
  readonly port: number;
  /** Meters that are connected. */
  readonly connected: () => number;
  close(): Promise<void>;
}

/**
 * The door for meters: MQTT 3.1.1 over TCP. A meter logs in as `companyId/unitId` with its secret and may do one thing,
 * publish on `units/{unitId}/events`; whatever else it tries ends the connection. It is acknowledged when the message is
 * durable. A meter has one connection: a second one ends the first.
 */
export async function startBroker(options: BrokerOptions): Promise<Broker> {
  const { host, port, log, maxConnections = 20_000 } = options;
  const sessions = new WeakMap<Client, MeterSession>();
  const aedes = await Aedes.createBroker({
    connectTimeout: CONNECT_WITHIN_MS,
    keepaliveLimit: LONGEST_KEEP_ALIVE_SECONDS,
    authenticate(client, username = '', password, done) {
      const session = new MeterSession(username, password?.toString('utf8') ?? '', options);
      session.principal().then(
        () => {
          sessions.set(client, session);
          // Whatever the meter calls itself: otherwise it could end the connection of another by taking its name.
          client.id = username;
          done(null, true);
        },
        (error) => done(refusal(error), false),
      );
    },
    // Aedes acknowledges a message after this, and before anything else.
    authorizePublish(client, packet, done) {
      const session = client && sessions.get(client);
      if (!session) return done(new RefusedError('not-allowed', 'nobody has logged in'));
      session.publish(packet).then(() => done(null), done);
    },
    authorizeSubscribe(_client, _subscription, done) {
      done(new RefusedError('not-allowed', 'meters have nothing to subscribe to'));
    },
  });
  aedes.on('clientError', (client, error) => log.warn('a meter is cut off', { meter: client.id, error }));
  aedes.on('connectionError', (_client, error) => log.debug('a connection is refused', { error }));

  const server = createServer((socket) => aedes.handle(limited(socket)));
  server.maxConnections = maxConnections;
  const end = () => new Promise<void>((resolve) => aedes.close(resolve));
  try {
    server.listen(port, host);
    await once(server, 'listening');
  } catch (error) {
    await end();
    throw error;
  }
  return {
    port: (server.address() as AddressInfo).port,
    connected: () => aedes.connectedClients,
    close: async () => {
      server.close();
      await end();
    },
  };
}

function limited(socket: Socket): Duplex {
  socket.setNoDelay();
  // Finds out about peers that are gone without a word.
  socket.setKeepAlive(true, 60_000);
  const readable = new PacketLimit(MOST_BYTES_A_PACKET);
  const both = Duplex.from({ readable: socket.pipe(readable), writable: socket });
  socket.on('error', (error) => both.destroy(error));
  both.on('close', () => socket.destroy());
  return both;
}

function refusal(error: unknown): AuthenticateError {
  const returnCode = error instanceof RefusedError ? BAD_CREDENTIAL : UNAVAILABLE;
  return Object.assign(new Error(error instanceof Error ? error.message : String(error)), { returnCode });
}
