/** Plans and settings as people write them: read, checked at once, and turned into trials. */
package org.stopwell.harness.plan;
