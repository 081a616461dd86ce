/** Files that people give to the program, before anything is read from them. */
package org.stopwell.harness.input;
