"""Stonework: locking up a form of metal type in a chase.

The floors, lowest first; a module imports only from floors below its own:

0. ``saying``: what was read, fit for a sentence
1. ``units``, ``files``: printers' measures, read and written; files read if plain, and written whole
2. ``shop``, ``form``, ``people``: what the shop owns; a measured form; who works here, and where their work is kept
3. ``lockup``, ``stacking``: what lies on the stone; which pieces make up a thickness
4. ``building``: small forms built up to a block
5. ``placing``, ``choosing``, ``rules``, ``laying``, ``moving``, ``pressing``, ``tightening``, ``spacing``,
   ``weighing``, ``records``, ``putting_away``: where the form is wanted; the solver; the judge; a lockup laid by hand;
   wood changed between two sides; a short edge mended; what the quoins do; in which order; a loose line mended; what it
   all weighs; lockups kept in files; chases measured anew; where each piece goes back
6. ``readiness``, ``rounds``, ``ledger``, ``planning``: whether a lockup may leave the workbook as one that would hold;
   how many rounds of small turns it wants and has room for; what stands in the shop; who of a class gets what
7. ``drawing``, ``jobs``: the pictures, and the same facts in words; the tickets, and how far a job has come
8. ``exercises``, ``carrying``: the questions of the lessons, and the answer sheet; a job carried through its stations
9. ``panels``: the controls in a lesson

Inside, every length is a plain float in American points (0.013837 inch).
"""
