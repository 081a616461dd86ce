/**
 * The whole controller as C99 sources. A controller is made in Java from its settings; the objects
 * that its step reaches become constants and one block of memory, the methods that its step reaches
 * are translated from their class files.
 */
package org.stopwell.harness.firmware;
