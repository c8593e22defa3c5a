import { openDatabase, prepareToWrite } from '../../electron/jobfile/database.ts';

/**
 * Changes every row of `t` in one transaction, with so small a cache that changed pages go to the
 * disk before the commit, and is killed before it commits.
 */
const [, , path] = process.argv;
if (path === undefined) throw new Error('path?');
const db = openDatabase(path);
prepareToWrite(db);
db.exec('PRAGMA cache_size = 5; BEGIN');
db.exec("UPDATE t SET x = 'new' || x");
for (let i = 0; i < 3000; i += 1) db.run('INSERT INTO t VALUES (?)', ['y'.repeat(500)]);
process.kill(process.pid, 'SIGKILL');
