/** The run file: one SQLite database with the inputs and results of one campaign. */
package org.stopwell.harness.record;
