/** Length readings taken on a bench, and their length record. */
package org.stopwell.harness.length;
