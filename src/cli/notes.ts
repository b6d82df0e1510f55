import { readFileSync } from 'node:fs';
import { runNotes } from './notes-run.js';

const STANDARD_INPUT = 0;

function readText(file: string): string {
  return readFileSync(file === '-' ? STANDARD_INPUT : file, 'utf8');
}

process.exitCode = runNotes(process.argv.slice(2), {
  read: readText,
  print: (text) => process.stdout.write(text),
  warn: (text) => process.stderr.write(text),
});
