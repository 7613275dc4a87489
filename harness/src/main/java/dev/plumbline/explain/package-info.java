/** What a mismatch comes down to: its smallest case, and what would explain it. */
package dev.plumbline.explain;
