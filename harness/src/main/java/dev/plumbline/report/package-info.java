/** Runs: their summaries, pages and tables of verdicts. */
package dev.plumbline.report;
