/** The run file: one SQLite database that holds everything one campaign was and measured. */
package org.stopwell.harness.record;
