/** Training and assessment of the depth estimate, and the file of a learned canal. */
package org.stopwell.harness.assess;
