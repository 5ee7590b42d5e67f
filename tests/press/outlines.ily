%% Tells the outline of every mark on every page, one a line of the file ink.txt:
%% page name ; x y x y ... (lower edge) ; x y x y ... (upper edge)
%% in staff spaces from the top left of the printed part of the page, y upwards.

#(define told (open-output-file "ink.txt"))

%% `format` with decimals would take more time than the engraving.
#(define (tell-number number)
   (display " " told)
   (display (/ (round (* 1000 number)) 1000) told))

#(define (tell-edge points x y)
   (for-each
    (lambda (point)
      (if (and (finite? (car point)) (finite? (cdr point)))
          (begin (tell-number (+ x (car point))) (tell-number (+ y (cdr point))))))
    points))

#(define (tell page name stencil x y)
   (if (and (ly:stencil? stencil) (not (ly:stencil-empty? stencil)))
       (let ((edges (ly:skylines-for-stencil stencil X)))
         (for-each (lambda (part) (display part told)) (list page " " name " ;"))
         (tell-edge (ly:skyline->points (car edges) X) x y)
         (display " ;" told)
         (tell-edge (ly:skyline->points (cdr edges) X) x y)
         (newline told))))

#(define (tell-grob page system grob down)
   (tell page (grob::name grob) (ly:grob-property grob 'stencil #f)
         (ly:grob-relative-coordinate grob system X)
         (- (ly:grob-relative-coordinate grob system Y) down)))

#(define (tell-page page)
   (for-each
    (lambda (prob down)
      (let ((number (ly:prob-property page 'page-number))
            (system (ly:prob-property prob 'system-grob #f)))
        (if (ly:grob? system)
            (for-each (lambda (grob) (tell-grob number system grob down))
                      (ly:grob-array->list (ly:grob-object system 'all-elements)))
            (tell number 'Words (ly:prob-property prob 'stencil) 0 (- down)))))
    (ly:prob-property page 'lines)
    (ly:prob-property page 'configuration)))

\paper { page-post-process = #(lambda (layout pages) (for-each tell-page pages) (force-output told)) }
