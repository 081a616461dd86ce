/** One trial: from a scene to a measured stop. */
package org.stopwell.harness.trial;
