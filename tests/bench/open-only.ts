import '@slack/bolt';
import Database from 'better-sqlite3';

/* What starting cannot be quicker than: importing Bolt and opening the database. */

const sqlite = new Database(process.argv[2] ?? ':memory:');
sqlite.pragma('journal_mode = WAL');
sqlite.prepare('select count(*) from sqlite_schema').get();
process.exit(0);
