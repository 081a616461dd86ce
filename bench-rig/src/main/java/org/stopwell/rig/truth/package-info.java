/** Whether what a bench calls true can be true. */
package org.stopwell.rig.truth;
