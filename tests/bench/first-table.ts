import { largeNotes } from '../commands/table/large-table.js';
import { digestOf, processorMs, resultOf } from './large-table-work.js';

/* Prints what the first table of a fresh process costs, in milliseconds of processor time, before anything is warm. */

const notes = largeNotes(Number(process.argv[2]));
console.log(processorMs(() => digestOf(resultOf(notes)), 1));
