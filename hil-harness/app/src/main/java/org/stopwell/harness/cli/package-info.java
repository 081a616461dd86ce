/** The command line. */
package org.stopwell.harness.cli;
