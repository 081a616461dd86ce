/** Speed, angle and prediction of the place of rest. */
package org.stopwell.core.motion;
