/*
 * Preloaded into a standby bot: loads what the bot is made of, then holds main.js back until the chaos run
 * says go. So a restart costs what opening the database costs, and not the loading of the libraries. When
 * the run itself ends, in whatever way, its bots end too.
 */
import { once } from 'node:events';
import process from 'node:process';

process.stdin.on('end', () => process.exit(0));
await import('../../src/app/run.js');
await once(process.stdin, 'data');
