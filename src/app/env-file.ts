import { existsSync } from 'node:fs';

/** Adds what a `.env` file in the folder says to the environment; what is set already stays as it is. */
export function readEnvFile(): void {
  if (existsSync('.env')) process.loadEnvFile('.env');
}
