/** The trials of a run as files for other programs: CSV, NumPy, and what each column means. */
package org.stopwell.harness.export;
