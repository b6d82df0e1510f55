import { readFileSync } from 'node:fs';
import { readEnvFile } from '../app/config.js';
import { runImport } from './notes-import.js';
import { runNotes } from './notes-run.js';

const STANDARD_INPUT = 0;

function readText(file: string): string {
  return readFileSync(file === '-' ? STANDARD_INPUT : file, 'utf8');
}

const outside = {
  read: readText,
  print: (text: string) => process.stdout.write(text),
  warn: (text: string) => process.stderr.write(text),
};

const args = process.argv.slice(2);
if (args.includes('--import')) readEnvFile();
process.exitCode = args.includes('--import')
  ? await runImport(args, process.env, outside)
  : runNotes(args, outside);
