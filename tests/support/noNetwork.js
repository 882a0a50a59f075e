// Preloaded with NODE_OPTIONS: no process that is told so reaches another machine, as on one without a network.
import { Socket } from 'node:net';

const connect = Socket.prototype.connect;

Object.defineProperty(Socket.prototype, 'connect', {
  /** @param {any[]} args */
  value: function refuse(...args) {
    const [[options] = []] = Array.isArray(args[0]) ? args : [args];
    // A pipe of this machine is no network.
    if (typeof options === 'object' && options?.path) return Reflect.apply(connect, this, args);
    const error = Object.assign(new Error('connect ENETUNREACH'), { code: 'ENETUNREACH' });
    queueMicrotask(() => this.destroy(error));
    return this;
  },
});
