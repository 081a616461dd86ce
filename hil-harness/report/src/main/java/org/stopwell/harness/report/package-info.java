/** What people and machines read: the report page and the JUnit file, both pure functions. */
package org.stopwell.harness.report;
