/** How good the depth estimate is: fitting it, trying it, and showing what came out. */
package org.stopwell.harness.assess;
