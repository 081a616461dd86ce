/** Policies that a researcher may swap by name: sensing, stopping, torque and trust. */
package org.stopwell.core.policy;
