/** A worker that keeps pages is registered by its address, which the policy lets through for this one alone. */
const WORKER = '/sw.js';

interface Policy {
  /** At run time it is a TrustedScriptURL, which the DOM's types do not know yet. */
  createScriptURL(address: string): string;
}

interface TrustedTypes {
  createPolicy(name: string, rules: { createScriptURL(address: string): string }): Policy;
}

declare global {
  interface Window {
    /** Where the browser knows trusted types (W3C). */
    readonly trustedTypes?: TrustedTypes;
  }
}

let registered: Promise<boolean> | undefined;

/** Registers the worker, once. False where the browser has none, or forbids it: then nothing is kept. */
export function registerWorker(): Promise<boolean> {
  registered ??= register();
  return registered;
}

async function register(): Promise<boolean> {
  if (!('serviceWorker' in navigator)) return false;
  try {
    await navigator.serviceWorker.register(addressOf(), { updateViaCache: 'none' });
    await navigator.serviceWorker.ready;
    await controlled();
    return true;
  } catch {
    // A private window, or a browser set to keep nothing. The pages work all the same.
    return false;
  }
}

function addressOf(): string {
  const policy = window.trustedTypes?.createPolicy('brinebell', {
    createScriptURL(address) {
      if (address !== WORKER) throw new TypeError(`${address} is no script of ours`);
      return address;
    },
  });
  return policy ? policy.createScriptURL(WORKER) : WORKER;
}

/** Until the worker answers for this page too: it was loaded before there was one. */
function controlled(): Promise<void> {
  if (navigator.serviceWorker.controller) return Promise.resolve();
  return new Promise((resolve) => {
    navigator.serviceWorker.addEventListener('controllerchange', () => resolve(), { once: true });
  });
}
