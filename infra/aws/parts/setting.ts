/** Thrown where a function is not told what it must know. */
class SettingError extends Error {
  readonly code = 'setting-missing';
}

/**
 * A variable of the environment, by a name of `ENVIRONMENT`.
 *
 * @throws SettingError if it is not set
 */
export function setting(name: string): string {
  const value = process.env[name];
  if (value === undefined || value === '') {
    throw new SettingError(`${name} is not set: deploy the stack anew, which sets it`);
  }
  return value;
}
