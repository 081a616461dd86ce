/** Speed, angle and the prediction of where the file comes to rest. */
package org.stopwell.core.motion;
