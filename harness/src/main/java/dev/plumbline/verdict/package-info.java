/** What was found: verdicts, mismatches, rows around them, and who records them. */
package dev.plumbline.verdict;
